using System.Text.RegularExpressions;
using Derivid.Core.Compounds;
using Derivid.Core.Observations;

namespace Derivid.Core.Curation.Readings;

/// <summary>The lines of a source that somebody may type from its page, in the order of the book.</summary>
public static partial class ReadingSheet
{
    // Boiling points that books list at normal pressure. Units: kPa, a difference.
    private const double NormalWithinKilopascals = 2;

    /// <summary>Lays the lines out.</summary>
    /// <param name="table">The table, its keys found.</param>
    /// <param name="source">The source to be read in.</param>
    /// <param name="readings">Its readings so far. Shape: oldest first.</param>
    /// <param name="reader">Who is to read.</param>
    /// <param name="kindKeys">Kinds wanted, in the order of the book's columns. Shape: empty for all, in the order of the table.</param>
    /// <param name="order">The order of the book.</param>
    /// <returns>Shape: one line a derivative in one form.</returns>
    public static IReadOnlyList<SheetLine> Of(
        ReferenceTable table, Source source, IReadOnlyList<PrintedReading> readings, string reader,
        IReadOnlyList<string> kindKeys, SheetOrder order)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(kindKeys);
        var parents = table.Parents.ToDictionary(parent => parent.Key, StringComparer.Ordinal);
        var kinds = (kindKeys.Count == 0 ? table.Kinds.Select(kind => kind.Key) : kindKeys).Distinct().ToList();
        var kindByKey = table.Kinds.ToDictionary(kind => kind.Key, StringComparer.Ordinal);
        var recalled = RecalledSources(table);
        var read = ByPlace(table, readings);
        var lines = table.Derivatives.Where(record => kinds.Contains(record.KindKey)).GroupBy(SheetPlace.Of).Select(records =>
        {
            var cited = records.FirstOrDefault(record => record.SourceKey == source.Key);
            return new SheetLine
            {
                Record = records.FirstOrDefault(record => recalled.Contains(record.SourceKey)) ?? records.First(),
                Parent = parents[records.Key.ParentKey],
                Kind = kindByKey[records.Key.KindKey],
                Locator = cited?.Locator ?? read[records.Key].LastOrDefault(reading => reading.Locator is not null)?.Locator,
                IsRecalled = records.Any(record => recalled.Contains(record.SourceKey)),
                IsDone = cited is not null || IsDone([.. read[records.Key]], reader),
                ReadersDiffer = read[records.Key].LastOrDefault()?.Verdict == ReadingVerdict.ReadersDiffer,
            };
        });
        return [.. Ordered(lines, table, order).ThenBy(line => Letters(line.Parent.Name), StringComparer.Ordinal)
            .ThenBy(line => line.Parent.Name, StringComparer.Ordinal).ThenBy(line => line.Parent.Key, StringComparer.Ordinal)
            .ThenBy(line => kinds.IndexOf(line.Kind.Key)).ThenBy(line => line.Record.CarbonylsCondensed)
            .ThenBy(line => line.Record.Form, StringComparer.Ordinal)];
    }

    /// <summary>Counts, source by source, what became of the lines typed so far.</summary>
    /// <param name="table">The table.</param>
    /// <param name="readings">All readings. Shape: oldest first.</param>
    /// <returns>Shape: by source, then verdict; of several readings of a line the last counts.</returns>
    public static ILookup<string, ReadingVerdict> Progress(ReferenceTable table, IReadOnlyList<PrintedReading> readings)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(readings);
        return readings.GroupBy(reading => reading.SourceKey)
            .SelectMany(ofSource => ByPlace(table, [.. ofSource]).Select(line => (Source: ofSource.Key, line.Last().Verdict)))
            .ToLookup(line => line.Source, line => line.Verdict, StringComparer.Ordinal);
    }

    /// <summary>How many lines have a value that nobody has read.</summary>
    /// <param name="table">The table.</param>
    public static int RecalledLines(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var recalled = RecalledSources(table);
        return table.Derivatives.Where(record => recalled.Contains(record.SourceKey)).Select(SheetPlace.Of).Distinct().Count();
    }

    /// <summary>Readings by the line they are of; those whose record is gone are left out.</summary>
    /// <param name="table">The table.</param>
    /// <param name="readings">The readings, of one source.</param>
    public static ILookup<SheetPlace, PrintedReading> ByPlace(ReferenceTable table, IEnumerable<PrintedReading> readings)
    {
        ArgumentNullException.ThrowIfNull(table);
        var places = table.Derivatives.ToDictionary(record => record.Key, SheetPlace.Of, StringComparer.Ordinal);
        return readings.Where(reading => places.ContainsKey(reading.RecordKey)).ToLookup(reading => places[reading.RecordKey]);
    }

    /// <summary>Keys of the sources that nobody has read in.</summary>
    internal static HashSet<string> RecalledSources(ReferenceTable table) =>
        [.. table.Sources.Where(source => source.HowRead == SourceReading.Memory).Select(source => source.Key)];

    // What is settled is done for all; what waits for another person is done for whoever has typed it.
    private static bool IsDone(List<PrintedReading> readings, string reader) => readings.Count > 0
        && (readings[^1].Verdict is ReadingVerdict.Agrees or ReadingVerdict.Differs or ReadingVerdict.NotPrinted
            || readings.Exists(reading => reading.ReadBy == reader));

    private static IOrderedEnumerable<SheetLine> Ordered(IEnumerable<SheetLine> lines, ReferenceTable table, SheetOrder order)
    {
        switch (order)
        {
            case SheetOrder.BoilingPoint:
                var boils = Lowest(table, ParentProperty.BoilingPoint);
                var melts = Lowest(table, ParentProperty.MeltingPoint);
                return lines.OrderBy(line => boils.GetValueOrDefault(line.Parent.Key, double.MaxValue))
                    .ThenBy(line => melts.GetValueOrDefault(line.Parent.Key, double.MaxValue));
            case SheetOrder.MolarMass:
                return lines.OrderBy(line => line.Parent.MolarMass);
            case SheetOrder.Locator:
                return lines.OrderBy(line => line.Locator is null)
                    .ThenBy(line => Digits().Replace(line.Locator ?? "", number => number.Value.PadLeft(9, '0')), StringComparer.Ordinal);
            default:
                return lines.OrderBy(line => Letters(line.Parent.Name), StringComparer.Ordinal);
        }
    }

    private static Dictionary<string, double> Lowest(ReferenceTable table, ParentProperty property) => table.Constants
        .Where(constant => constant.Property == property
            && (constant.PressureKilopascals is null || Math.Abs(constant.PressureKilopascals.Value - BoilingPointReading.StandardPressureKilopascals) < NormalWithinKilopascals))
        .GroupBy(constant => constant.ParentKey, StringComparer.Ordinal)
        .ToDictionary(constants => constants.Key, constants => constants.Min(constant => constant.Low), StringComparer.Ordinal);

    // Tables stand 2-butanone under b.
    private static string Letters(string name) => string.Concat(name.Where(char.IsLetter)).ToLowerInvariant();

    [GeneratedRegex("[0-9]+", RegexOptions.CultureInvariant)]
    private static partial Regex Digits();
}

/// <summary>One line of a sheet. It knows the records; whoever shows it to a reader shows none of their values.</summary>
public sealed record SheetLine
{
    /// <summary>The record that names the line: a recalled one where there is one.</summary>
    public required Derivative Record { get; init; }

    /// <summary>The parent.</summary>
    public required Parent Parent { get; init; }

    /// <summary>The kind of derivative.</summary>
    public required DerivativeKind Kind { get; init; }

    /// <summary>Where in the source it stands, as a record or an earlier reader has it. Missing: null, nobody said.</summary>
    public string? Locator { get; init; }

    /// <summary>Whether nobody has read one of its values.</summary>
    public required bool IsRecalled { get; init; }

    /// <summary>Whether the reader has nothing to type there: the table cites the source for it, or it is typed.</summary>
    public required bool IsDone { get; init; }

    /// <summary>Whether two people typed different things, so that a third has to look.</summary>
    public required bool ReadersDiffer { get; init; }

    /// <summary>Whether the line is wanted.</summary>
    /// <param name="scope">What is wanted.</param>
    public bool IsIn(SheetScope scope) => scope switch
    {
        SheetScope.Recalled => IsRecalled && !IsDone,
        SheetScope.Unread => !IsDone,
        SheetScope.All => true,
    };
}

/// <summary>The order in which a book lists its compounds; never that of the values to be read.</summary>
public enum SheetOrder
{
    /// <summary>By name, figures and signs in it passed over.</summary>
    Name,

    /// <summary>By the boiling point of the parent; those without one behind, by its melting point.</summary>
    BoilingPoint,

    /// <summary>By the molar mass of the parent.</summary>
    MolarMass,

    /// <summary>By page, table or entry, as far as records that cite the source or earlier readers say it.</summary>
    Locator,
}

/// <summary>Which lines a sheet has.</summary>
public enum SheetScope
{
    /// <summary>Values that nobody has read, as far as they aren't done in this source.</summary>
    Recalled,

    /// <summary>All that isn't done in this source.</summary>
    Unread,

    /// <summary>All, also what is done.</summary>
    All,
}
