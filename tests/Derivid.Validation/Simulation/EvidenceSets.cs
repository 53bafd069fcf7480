namespace Derivid.Validation.Simulation;

/// <summary>The rows of the report, without and with colour in turn.</summary>
public static class EvidenceSets
{
    /// <summary>The rows, in the order printed: each one without colour, then with it.</summary>
    public static IReadOnlyList<EvidenceSet> Rows { get; } =
    [
        .. new[]
        {
            EvidenceSet.Hydrazone,
            EvidenceSet.Hydrazone | EvidenceSet.SpotTests,
            EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone,
            EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone | EvidenceSet.SpotTests,
            EvidenceSet.Hydrazone | EvidenceSet.SpotTests | EvidenceSet.BoilingPoint,
            EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone | EvidenceSet.SpotTests | EvidenceSet.BoilingPoint,
            EvidenceSet.Hydrazone | EvidenceSet.SpotTests | EvidenceSet.OwnConstant,
            EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone | EvidenceSet.SpotTests | EvidenceSet.OwnConstant,
        }.SelectMany(row => new[] { row, row | EvidenceSet.Colour }),
    ];

    /// <summary>Place of the row with two derivatives, three tests and the boiling point, without colour; with it, the next.</summary>
    public static int Everything { get; } = IndexOf(EvidenceSet.BoilingPoint);

    /// <summary>The same with the boiling point of a liquid or the melting point of a solid.</summary>
    public static int EverythingAsTaken { get; } = IndexOf(EvidenceSet.OwnConstant);

    /// <summary>A row's name.</summary>
    public static string Name(EvidenceSet row)
    {
        var parts = new List<string> { "2,4-DNPH" };
        Add(EvidenceSet.Colour, "colour");
        Add(EvidenceSet.Semicarbazone, "semicarbazone");
        Add(EvidenceSet.SpotTests, "3 tests");
        Add(EvidenceSet.BoilingPoint, "b.p.");
        Add(EvidenceSet.OwnConstant, "b.p., or m.p. of a solid");
        return string.Join(" + ", parts);

        void Add(EvidenceSet part, string name)
        {
            if (row.HasFlag(part))
            {
                parts.Add(name);
            }
        }
    }

    private static int IndexOf(EvidenceSet constant) => Rows.ToList().IndexOf(
        EvidenceSet.Hydrazone | EvidenceSet.Semicarbazone | EvidenceSet.SpotTests | constant);
}
