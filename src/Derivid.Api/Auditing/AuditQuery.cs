using System.ComponentModel.DataAnnotations;
using Derivid.Api.Http;

namespace Derivid.Api.Auditing;

/// <summary>What the audit log can be asked.</summary>
public sealed record AuditQuery : RowQuery
{
    /// <summary>By whom, exactly as the log names them. Missing: by anyone.</summary>
    [StringLength(500)]
    public string? Actor { get; init; }

    /// <summary>What, exactly, such as "key.revoke". Missing: anything.</summary>
    public string? Action { get; init; }

    /// <summary>To what, exactly, such as "keys/" and a public part. Missing: to anything.</summary>
    [StringLength(500)]
    public string? Resource { get; init; }

    /// <summary>In which order. Missing: newest first.</summary>
    public AuditOrder? Order { get; init; }
}
