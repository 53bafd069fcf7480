namespace Derivid.Api.Auditing;

/// <summary>In which order to read the audit log.</summary>
public enum AuditOrder
{
    /// <summary>What happened lately comes first.</summary>
    NewestFirst,

    /// <summary>From the beginning.</summary>
    OldestFirst,
}
