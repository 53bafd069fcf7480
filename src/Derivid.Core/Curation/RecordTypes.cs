using System.Collections.Frozen;
using System.Globalization;
using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Curation;

/// <summary>Every kind of record.</summary>
/// <remarks>
/// Keys: a record's own key where it has one. A response is named by test and order, an expectation by kind and order,
/// a constant by parent, property, source and lower end, each joined by ":".
/// </remarks>
public static class RecordTypes
{
    /// <summary>Parts the members of a joined key.</summary>
    public const char KeySeparator = ':';

    /// <summary>All of them. Shape: in the order of <see cref="RecordKind"/>.</summary>
    public static IReadOnlyList<RecordType> All { get; } =
    [
        new RecordTypeOf<Source>(
            RecordKind.Source, "sources", row => row.Key,
            table => table.Sources, (table, rows) => table with { Sources = rows }),
        new RecordTypeOf<Parent>(
            RecordKind.Parent, "parents", row => row.Key,
            table => table.Parents, (table, rows) => table with { Parents = rows }),
        new RecordTypeOf<ParentConstant>(
            RecordKind.ParentConstant, "parent-constants", KeyOf,
            table => table.Constants, (table, rows) => table with { Constants = rows }),
        new RecordTypeOf<DerivativeKind>(
            RecordKind.DerivativeKind, "derivative-kinds", row => row.Key,
            table => table.Kinds, (table, rows) => table with { Kinds = rows }),
        new RecordTypeOf<Colour>(
            RecordKind.Colour, "colours", row => row.Key,
            table => table.Colours, (table, rows) => table with { Colours = rows }),
        new RecordTypeOf<Derivative>(
            RecordKind.Derivative, "derivatives", row => row.Key,
            table => table.Derivatives, (table, rows) => table with { Derivatives = rows }),
        new RecordTypeOf<SpotTestQuestion>(
            RecordKind.SpotTestQuestion, "spot-test-questions", row => row.Key,
            table => table.Questions, (table, rows) => table with { Questions = rows }),
        new RecordTypeOf<SpotTest>(
            RecordKind.SpotTest, "spot-tests", row => row.Key,
            table => table.SpotTests, (table, rows) => table with { SpotTests = rows }),
        new RecordTypeOf<SpotTestResponse>(
            RecordKind.SpotTestResponse, "spot-test-responses", row => Joined(row.TestKey, Invariant(row.Order)),
            table => table.Responses, (table, rows) => table with { Responses = rows }),
        new RecordTypeOf<ColourExpectation>(
            RecordKind.ColourExpectation, "colour-expectations", row => Joined(row.KindKey, Invariant(row.Order)),
            table => table.ColourExpectations, (table, rows) => table with { ColourExpectations = rows }),
        new RecordTypeOf<MeltingPointStandard>(
            RecordKind.MeltingPointStandard, "melting-point-standards", row => row.Key,
            table => table.Standards, (table, rows) => table with { Standards = rows }),
    ];

    private static readonly FrozenDictionary<string, RecordType> ByTableName =
        All.ToFrozenDictionary(type => type.TableName, StringComparer.Ordinal);

    /// <summary>The kind of record a list of this name holds.</summary>
    /// <param name="tableName">Name of the list.</param>
    /// <returns>Missing: null, there is no such list.</returns>
    public static RecordType? Find(string tableName) => ByTableName.GetValueOrDefault(tableName);

    /// <summary>What is known of a kind.</summary>
    /// <param name="kind">The kind.</param>
    public static RecordType Of(RecordKind kind) => All[(int)kind];

    private static string KeyOf(ParentConstant row) =>
        Joined(row.ParentKey, PropertyName(row.Property), row.SourceKey, row.Low.ToString("R", CultureInfo.InvariantCulture));

    private static string PropertyName(ParentProperty property) => property switch
    {
        ParentProperty.BoilingPoint => "boiling-point",
        ParentProperty.MeltingPoint => "melting-point",
        ParentProperty.EnthalpyOfFusion => "enthalpy-of-fusion",
    };

    private static string Invariant(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static string Joined(params string[] parts) => string.Join(KeySeparator, parts);
}
