using System.Text.Json;
using CsCheck;
using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests.Curation;

public sealed class TableDifferencesTests
{
    private const int Iterations = 60;

    /// <summary>Some rows of the seed tables, some of them altered: every list shares keys with its like.</summary>
    private static readonly Gen<ReferenceTable> Tables = Gen.Int[0, 8].Array[1, 40].Select(choices =>
    {
        var table = Table with { Version = choices.Length };
        foreach (var (kind, all) in Table.Lists())
        {
            var rows = all.Take(choices.Length).Zip(choices)
                .Where(pair => pair.Second > 2)
                .Select(pair => pair.Second > 6 ? Altered(pair.First, pair.Second) : pair.First);
            table = table.With(kind, rows);
        }

        return table.Ordered();
    });

    [Fact]
    public void DifferencesAppliedToTheOneGiveTheOther() =>
        Gen.Select(Tables, Tables).Sample(
            (a, b) => Json(TableDifferences.Apply(a, TableDifferences.Between(a, b), b.Version)) == Json(b), iter: Iterations);

    [Fact]
    public void TableDoesNotDifferFromItself() =>
        Tables.Sample(table => TableDifferences.Between(table, Reread(table)).Count == 0, iter: Iterations);

    [Fact]
    public void DifferencesTheOtherWayAreTheSameTurnedAround() =>
        Gen.Select(Tables, Tables).Sample(
            (a, b) => TableDifferences.Between(a, b)
                .Select(change => (change.Kind, change.Key, change.Before, change.After))
                .SequenceEqual(TableDifferences.Between(b, a)
                    .Select(change => (change.Kind, change.Key, change.After, change.Before))),
            iter: Iterations);

    [Fact]
    public void ChangeShowsRecordBeforeAndAfterAndTheFieldsThatDiffer()
    {
        var parent = Table.Parents[3];
        var altered = parent with { Synonyms = [.. parent.Synonyms, "new"], Note = "looked up" };
        var after = Table with { Parents = [.. Table.Parents.Select(row => row == parent ? altered : row)] };

        var change = Assert.Single(TableDifferences.Between(Table, after));

        Assert.Equal((RecordKinds.Parents, parent.Key, ChangeType.Changed), (change.Kind, change.Key, change.Type));
        Assert.Same(parent, change.Before);
        Assert.Same(altered, change.After);
        Assert.Equal(["Synonyms", "Note"], change.Fields);
    }

    [Fact]
    public void EveryPropertyOfARecordIsAColumnOfItsKind() =>
        Assert.All(TableLayout.Standard.Kinds, kind => Assert.Equal(
            kind.RecordType.GetProperties().Where(property => property.CanWrite).Select(property => property.Name).Order(),
            kind.Columns.Select(column => column.Field).Order()));

    private static object Altered(object row, int choice) => row switch
    {
        Source source => source with { Citation = $"altered {choice}" },
        Parent parent => parent with { Synonyms = [$"altered {choice}"] },
        ParentConstant constant => constant with { High = constant.High + choice },
        DerivativeKind kind => kind with { Minutes = choice },
        Derivative derivative => derivative with { Note = $"altered {choice}" },
        SpotTestQuestion question => question with { Text = $"altered {choice}" },
        SpotTest test => test with { KnownExceptions = $"altered {choice}" },
        SpotTestResponse response => response with { PositiveRate = choice / 10.0 },
        Colour colour => colour with { Synonyms = [$"altered {choice}"] },
        ColourExpectation expectation => expectation with { Weights = [choice / 10.0, 1 - (choice / 10.0)] },
        MeltingPointStandard standard => standard with { ClearPointCelsius = standard.ClearPointCelsius + choice },
        _ => throw new ArgumentOutOfRangeException(nameof(row)),
    };

    private static ReferenceTable Reread(ReferenceTable table) => JsonSerializer.Deserialize<ReferenceTable>(Json(table))!;

    private static string Json(ReferenceTable table) => JsonSerializer.Serialize(table);
}
