using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using static Derivid.Core.Tests.Curation.CuratedTable;

namespace Derivid.Core.Tests.Curation;

/// <summary>What differs between two tables, and how it is put on top of one.</summary>
public sealed class TableDifferencesTests
{
    [Fact]
    public void AddedChangedAndRemovedAreToldByKindAndKey()
    {
        var after = Sound
            .Remove(RecordKinds.Derivatives, "propanone-semicarbazone")
            .Add(RecordKinds.Derivatives, Derivative("propanone", "oxime", 60))
            .Change<Parent>(RecordKinds.Parents, "propanone", parent => parent with { Note = "Seen.", Synonyms = ["acetone", "a"] });

        var changes = TableDifferences.Between(Sound, after);

        Assert.Equal(
            [
                ("parents", "propanone", ChangeType.Changed),
                ("derivatives", "propanone-oxime", ChangeType.Added),
                ("derivatives", "propanone-semicarbazone", ChangeType.Removed),
            ],
            changes.Select(change => (change.Kind.TableName, change.Key, change.Type)));
        Assert.Equal(["Synonyms", "Note"], changes[0].Fields);
        Assert.Empty(changes[1].Fields);
        Assert.Empty(changes[2].Fields);
    }

    [Fact]
    public void ListsAreComparedByWhatIsInThem()
    {
        var same = Sound.Change<Parent>(RecordKinds.Parents, "propanone", parent => parent with { Synonyms = ["acetone"] });
        var other = Sound.Change<Parent>(RecordKinds.Parents, "propanone", parent => parent with { Synonyms = ["dimethyl ketone"] });

        Assert.Empty(TableDifferences.Between(Sound, same));
        Assert.Equal(["Synonyms"], Assert.Single(TableDifferences.Between(Sound, other)).Fields);
    }

    [Fact]
    public void MissingAndGivenTextsDiffer()
    {
        var note = Sound.Change<Parent>(RecordKinds.Parents, "propanone", parent => parent with { Note = "Seen." });

        Assert.Equal(["Note"], Assert.Single(TableDifferences.Between(Sound, note)).Fields);
        Assert.Equal(["Note"], Assert.Single(TableDifferences.Between(note, Sound)).Fields);
    }

    [Fact]
    public void DifferencesPutOnTopOfTheOneGiveTheOther()
    {
        var after = Sound
            .Remove(RecordKinds.Derivatives, "trioxane-semicarbazone")
            .Remove(RecordKinds.SpotTestResponses, "schiff:1")
            .Add(RecordKinds.Derivatives, Derivative("propanone", "oxime", 60))
            .Change<Parent>(RecordKinds.Parents, "propanone", parent => parent with { Note = "Seen." });

        var made = TableDifferences.Apply(Sound, TableDifferences.Between(Sound, after), 7);

        Assert.Equal(7, made.Version);
        Assert.Empty(TableDifferences.Between(after, made));
        Assert.All(RecordKinds.All, kind => Assert.Equal(after.RowsOf(kind).Count, made.RowsOf(kind).Count));
    }

    [Fact]
    public void EveryKindOfRecordIsFoundByItsTableAndKeyed()
    {
        Assert.All(RecordKinds.All, kind =>
        {
            Assert.Same(kind, TableLayout.Standard.Find(kind.TableName));
            Assert.Same(kind, TableLayout.Standard.Kinds[TableLayout.Standard.PlaceOf(kind)]);
            var keys = Sound.RowsOf(kind).Select(kind.KeyOf).ToList();
            Assert.NotEmpty(keys);
            Assert.Equal(keys.Count, keys.Distinct().Count());
            Assert.Empty(Sound.With(kind, []).RowsOf(kind));
        });
        Assert.Null(TableLayout.Standard.Find("nothing"));
    }
}
