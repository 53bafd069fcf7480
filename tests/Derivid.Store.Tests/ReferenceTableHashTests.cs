using System.Security.Cryptography;
using System.Text;
using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Store.Tables;

namespace Derivid.Store.Tests;

/// <summary>What a version's hash is made of. A figure here that changes breaks every database released before.</summary>
public sealed class ReferenceTableHashTests
{
    // Written by hand after the description of the format; the missing address and the empty synonyms leave nothing.
    private const string Canonical =
        "15:derivid-table 1\n"
        + "19:colour-expectations\n1:1\n"
        + "1:6\n10:is_assumed\n3:yes\n8:kind_key\n4:dnph\n5:order\n1:1\n10:source_key\n4:book\n"
        + "15:structure_class\n3:any\n7:weights\n1:2\n19:0.30000000000000004\n5:1E-10\n"
        + "7:colours\n1:2\n"
        + "1:3\n3:key\n6:orange\n4:name\n6:orange\n4:rank\n1:0\n"
        + "1:4\n3:key\n3:red\n4:name\n4:rôt\n4:rank\n1:1\n8:synonyms\n1:2\n7:scarlet\n7:a;b\nc:d\n"
        + "7:sources\n1:1\n"
        + "1:5\n8:citation\n1:A\n6:family\n1:f\n5:grade\n8:compiled\n8:how_read\n6:memory\n3:key\n4:book\n";

    private static ReferenceTable Small { get; } = SampleTable.First with
    {
        Sources = [new Source("book", "A", null, SourceGrade.Compiled, "f", SourceReading.Memory)],
        Parents = [],
        Constants = [],
        Kinds = [],
        Derivatives = [],
        Questions = [],
        SpotTests = [],
        Responses = [],
        Colours = [new Colour("orange", "orange", 0, []), new Colour("red", "rôt", 1, ["scarlet", "a;b\nc:d"])],
        ColourExpectations = [new ColourExpectation("dnph", 1, "any", [0.1 + 0.2, 1e-10], "book", true, null)],
        Standards = [],
    };

    [Fact]
    public void HashIsThatOfTheTextAsDescribed() => Assert.Equal(
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(Canonical))), ReferenceTableHash.Of(Small));

    [Fact]
    public void NumberOfTheVersionIsNoPartOfIt() =>
        Assert.Equal(ReferenceTableHash.Of(SampleTable.First), ReferenceTableHash.Of(SampleTable.First with { Version = 7 }));

    [Fact]
    public void EveryValueOfEveryRowCounts()
    {
        var hashes = new List<string> { ReferenceTableHash.Of(SampleTable.First) };
        foreach (var (kind, rows) in SampleTable.First.Lists())
        {
            hashes.AddRange(
                from place in Enumerable.Range(0, rows.Count)
                from property in kind.RecordType.GetProperties()
                select ReferenceTableHash.Of(SampleTable.First.With(
                    kind, [.. rows.Take(place), Altered(rows[place], property), .. rows.Skip(place + 1)])));
            hashes.AddRange(Enumerable.Range(0, rows.Count).Select(place => ReferenceTableHash.Of(
                SampleTable.First.With(kind, rows.Where((_, each) => each != place)))));
        }

        Assert.True(hashes.Count > 250, $"{hashes.Count} tables");
        Assert.Equal(hashes.Count, hashes.Distinct().Count());
    }

    [Fact]
    public void MissingEmptyAndMovedTextsDiffer()
    {
        var parent = SampleTable.First.Parents[0];
        Parent[] alike =
        [
            parent with { Note = null, Hazards = null },
            parent with { Note = "", Hazards = null },
            parent with { Note = null, Hazards = "" },
            parent with { Note = "a", Hazards = null },
            parent with { Note = null, Hazards = "a" },
            parent with { Synonyms = ["a", "b"] },
            parent with { Synonyms = ["b", "a"] },
            parent with { Synonyms = ["a;b"] },
            parent with { Synonyms = [""] },
            parent with { Synonyms = [] },
            parent with { MolarMass = 0 },
            parent with { MolarMass = double.Epsilon },
        ];

        var hashes = alike.Select(row => ReferenceTableHash.Of(SampleTable.First with { Parents = [row] })).ToHashSet();

        Assert.Equal(alike.Length, hashes.Count);
    }

    private static object Altered(object row, System.Reflection.PropertyInfo property)
    {
        var copy = row.GetType().GetMethod("<Clone>$")!.Invoke(row, null)!;
        var value = property.GetValue(row);
        property.SetValue(copy, value switch
        {
            string text => text + "~",
            double number => double.BitIncrement(number),
            int number => number + 100,
            bool isYes => !isYes,
            Enum member => Enum.GetValues(member.GetType()).Cast<object>().First(other => !other.Equals(member)),
            IReadOnlyList<string> texts => (string[])[.. texts, "~"],
            IReadOnlyList<double> numbers => (double[])[.. numbers, 0.5],
            null when property.PropertyType == typeof(string) => "~",
            null when property.PropertyType == typeof(double?) => 0.5,
            null when property.PropertyType == typeof(int?) => 3,
            null when property.PropertyType == typeof(bool?) => true,
            null when Nullable.GetUnderlyingType(property.PropertyType) is { IsEnum: true } word => Enum.GetValues(word).GetValue(0),
            _ => throw new InvalidOperationException($"No other value for {property.Name}."),
        });
        return copy;
    }
}
