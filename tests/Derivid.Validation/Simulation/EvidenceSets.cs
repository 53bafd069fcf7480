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
        }.SelectMany(row => new[] { row, row | EvidenceSet.Colour }),
    ];

    /// <summary>A row's name.</summary>
    public static string Name(EvidenceSet row)
    {
        var parts = new List<string> { "2,4-DNPH" };
        Add(EvidenceSet.Colour, "colour");
        Add(EvidenceSet.Semicarbazone, "semicarbazone");
        Add(EvidenceSet.SpotTests, "3 tests");
        Add(EvidenceSet.BoilingPoint, "b.p.");
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
