namespace Derivid.Client.Identifications;

/// <summary>How a spot test turned out.</summary>
public enum SpotTestOutcome
{
    /// <summary>Not run; the same as leaving it out.</summary>
    NotDone,

    /// <summary>A clear positive.</summary>
    Positive,

    /// <summary>A clear negative.</summary>
    Negative,

    /// <summary>Neither; carries no weight.</summary>
    Doubtful,
}
