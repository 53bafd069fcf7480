using Derivid.Core.Compounds;
using Derivid.Core.Curation;

namespace Derivid.SeedTables.Tests;

/// <summary>The table as the working copy has it, sealed or not, so that resealing needs no second build.</summary>
internal static class SeedFolderTable
{
    public static ReferenceTable Read() => new()
    {
        Version = 1,
        Sources = SeedFolder.Read(RecordKinds.Sources),
        Parents = SeedFolder.Read(RecordKinds.Parents),
        Constants = SeedFolder.Read(RecordKinds.ParentConstants),
        Kinds = SeedFolder.Read(RecordKinds.DerivativeKinds),
        Derivatives = SeedFolder.Read(RecordKinds.Derivatives),
        Questions = SeedFolder.Read(RecordKinds.SpotTestQuestions),
        SpotTests = SeedFolder.Read(RecordKinds.SpotTests),
        Responses = SeedFolder.Read(RecordKinds.SpotTestResponses),
        Colours = SeedFolder.Read(RecordKinds.Colours),
        ColourExpectations = SeedFolder.Read(RecordKinds.ColourExpectations),
        Standards = SeedFolder.Read(RecordKinds.MeltingPointStandards),
    };
}
