using Derivid.Core.Compounds;

namespace Derivid.Validation.Literature;

/// <summary>The table without some families of sources.</summary>
/// <remarks>
/// Every record of a family left out goes, of every parent, and what is left counts as recalled or read by itself: a value
/// may be called cross-checked only because a source left out agrees with it.
/// </remarks>
public static class ReducedTable
{
    /// <summary>The table without the families.</summary>
    /// <exception cref="InvalidOperationException">A record of a family is left: the test would prove nothing.</exception>
    public static ReferenceTable Without(ReferenceTable table, IReadOnlyCollection<string> families)
    {
        var byKey = table.Sources.ToDictionary(source => source.Key, source => source.Family, StringComparer.Ordinal);
        var reduced = table with
        {
            Derivatives = [.. table.Derivatives
                .Where(record => !families.Contains(byKey[record.SourceKey]))
                .Select(record => record with { Verification = ByItself(record.Verification, byKey[record.SourceKey]) })],
        };
        return reduced.Derivatives.Any(record => families.Contains(byKey[record.SourceKey]))
            ? throw new InvalidOperationException($"A record of '{string.Join(", ", families)}' leaks into the table.")
            : reduced;
    }

    private static Verification ByItself(Verification verification, string family) =>
        verification != Verification.CrossChecked ? verification
        : family == LiteratureValue.Handbooks ? Verification.Recalled
        : Verification.Read;
}
