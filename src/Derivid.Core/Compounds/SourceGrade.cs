namespace Derivid.Core.Compounds;

/// <summary>How the values of a source came about.</summary>
public enum SourceGrade
{
    /// <summary>Measured by the authors.</summary>
    Measured,

    /// <summary>Collected from other publications.</summary>
    Compiled,

    /// <summary>Collected and critically evaluated.</summary>
    Reviewed,

    /// <summary>Estimated or assumed; says so in its citation.</summary>
    Estimated,
}
