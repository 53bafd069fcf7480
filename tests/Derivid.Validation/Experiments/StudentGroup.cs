namespace Derivid.Validation.Experiments;

/// <summary>A group of simulated students; groups of different seeds share none.</summary>
/// <param name="Seed">Seed of the group.</param>
/// <param name="Count">Number of students.</param>
public sealed record StudentGroup(int Seed, int Count)
{
    /// <summary>Seed of the half everything is fitted on.</summary>
    public const int FittingSeed = 1;

    /// <summary>Seed of the half that is reported.</summary>
    public const int ReportingSeed = 2;
}
