using System.Text.Json;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Curation;
using Derivid.Store.Seeding;

namespace Derivid.Api.Tests.Curation;

/// <summary>Wire and archive each say how a record is written as JSON, and say the same.</summary>
public sealed class RecordJsonTests
{
    [Fact]
    public void WireAndArchiveWriteARecordAlikeAndReadEachOthers() => Assert.All(
        SeedTables.Load().Lists().SelectMany(list => list.Rows.Select(row => (list.Kind, Row: row))),
        record =>
        {
            var onTheWire = JsonSerializer.Serialize(record.Row, record.Kind.RecordType, WireJson.WithDefaults);
            Assert.Equal(RecordText.Write(record.Row), onTheWire);
            Assert.Empty(record.Kind.ChangedFields(record.Row, RecordText.Read(record.Kind, onTheWire)!));
            Assert.Empty(record.Kind.ChangedFields(
                record.Row, JsonSerializer.Deserialize(RecordText.Write(record.Row), record.Kind.RecordType, WireJson.WithDefaults)!));
        });

    [Fact]
    public void BothLeaveAListEmptyThatIsLeftOut()
    {
        const string Parent =
            """
            {"key":"p","name":"P","casNumber":"67-64-1","smiles":"CC(C)=O","formula":"C3H6O","molarMass":58.08,"kind":"ketone","commonness":"usual"}
            """;

        Assert.Empty(((Parent)RecordText.Read(RecordKinds.Parents, Parent)!).Synonyms);
        Assert.Empty(JsonSerializer.Deserialize<Parent>(Parent, WireJson.WithDefaults)!.Synonyms);
    }
}
