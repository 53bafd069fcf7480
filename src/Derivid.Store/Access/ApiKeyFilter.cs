using Derivid.Core.Teaching;

namespace Derivid.Store.Access;

/// <summary>Which keys to list.</summary>
/// <param name="Role">Those of one role. Missing: null, of any.</param>
/// <param name="IsUsable">Those that open something, or those that don't any more. Missing: null, both.</param>
public sealed record ApiKeyFilter(Role? Role = null, bool? IsUsable = null);
