namespace Derivid.Validation.Simulation;

/// <summary>The rows of the report.</summary>
public static class EvidenceSets
{
    /// <summary>The rows, in the order printed.</summary>
    public static IReadOnlyList<EvidenceSet> Rows { get; } =
    [
        EvidenceSet.Hydrazone,
        EvidenceSet.Hydrazone | EvidenceSet.Colour,
        EvidenceSet.Hydrazone | EvidenceSet.Colour | EvidenceSet.SpotTests,
        EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone,
        EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone | EvidenceSet.BoilingPoint,
        EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone | EvidenceSet.OwnConstant,
        EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone | EvidenceSet.SpotTests,
        EvidenceSet.Hydrazone | EvidenceSet.SpotTests | EvidenceSet.OwnConstant,
        EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone | EvidenceSet.SpotTests | EvidenceSet.OwnConstant,
        EvidenceSet.Hydrazone | EvidenceSet.Colour | EvidenceSet.Semicarbazone | EvidenceSet.SpotTests
            | EvidenceSet.OwnConstant,
    ];

    /// <summary>Places of the rows that "none of these" is judged on: two derivatives and a boiling or own melting point.</summary>
    public static IReadOnlyList<int> NoneRows { get; } = [4, 5];

    /// <summary>Place of the row with everything.</summary>
    public static int Everything => Rows.Count - 1;

    /// <summary>A row's name.</summary>
    public static string Name(EvidenceSet row)
    {
        var parts = new List<string> { "2,4-DNPH" };
        Add(EvidenceSet.Colour, "colour");
        Add(EvidenceSet.Semicarbazone, "semicarbazone");
        Add(EvidenceSet.SpotTests, "3 tests");
        Add(EvidenceSet.BoilingPoint, "b.p.");
        Add(EvidenceSet.OwnConstant, "state and b.p., or m.p. of a solid");
        return string.Join(" + ", parts);

        void Add(EvidenceSet part, string name)
        {
            if (row.HasFlag(part))
            {
                parts.Add(name);
            }
        }
    }
}
