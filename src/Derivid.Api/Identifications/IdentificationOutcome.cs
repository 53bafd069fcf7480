using Derivid.Core.Ranking;

namespace Derivid.Api.Identifications;

/// <summary>What an identification comes to.</summary>
public enum IdentificationOutcome
{
    /// <summary>A compound leads that the evidence tells from the others.</summary>
    Named,

    /// <summary>The compound that leads is one of several that cannot be told apart.</summary>
    Group,

    /// <summary>None of the compounds considered is likelier than any of them.</summary>
    None,
}

/// <summary>How an observation was sent.</summary>
public enum IdentificationWay
{
    /// <summary>By itself.</summary>
    Alone,

    /// <summary>As an item of a batch.</summary>
    InBatch,
}

/// <summary>Tells outcomes.</summary>
public static class IdentificationOutcomes
{
    /// <summary>The outcome of an identification.</summary>
    /// <param name="identification">The identification.</param>
    public static IdentificationOutcome Of(Identification identification)
    {
        ArgumentNullException.ThrowIfNull(identification);
        return identification.NoneOfThese.Leads ? IdentificationOutcome.None
            : identification.Groups.Any(group => group.ParentKeys.Count > 1 && group.ParentKeys.Contains(identification.Candidates[0].Parent.Key)) ? IdentificationOutcome.Group
            : IdentificationOutcome.Named;
    }

    /// <summary>The outcome of a ranking.</summary>
    /// <param name="ranking">The ranking.</param>
    public static IdentificationOutcome Of(Ranking ranking)
    {
        ArgumentNullException.ThrowIfNull(ranking);
        return ranking.NoneLeads ? IdentificationOutcome.None
            : ranking.Groups.Any(group => group.Parents.Contains(ranking.Candidates[0].Parent)) ? IdentificationOutcome.Group
            : IdentificationOutcome.Named;
    }
}
