using Derivid.Api.Http;
using Derivid.Core.Teaching;

namespace Derivid.Api.Keys;

/// <summary>What the list of keys can be asked.</summary>
public sealed record KeyQuery : RowQuery
{
    /// <summary>Keys of one role. Missing: of any.</summary>
    public Role? Role { get; init; }

    /// <summary>True: keys that open something; false: revoked and expired ones. Missing: both.</summary>
    public bool? IsUsable { get; init; }
}
