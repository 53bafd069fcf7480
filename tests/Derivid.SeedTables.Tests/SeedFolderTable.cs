using Derivid.Core.Compounds;
using Derivid.Store.Seeding;

namespace Derivid.SeedTables.Tests;

/// <summary>The table as the working copy has it, sealed or not, so that resealing needs no second build.</summary>
internal static class SeedFolderTable
{
    public static ReferenceTable Read() => new()
    {
        Version = 1,
        Sources = SeedFolder.Read(CompoundTables.Sources),
        Parents = SeedFolder.Read(CompoundTables.Parents),
        Constants = SeedFolder.Read(CompoundTables.Constants),
        Kinds = SeedFolder.Read(CompoundTables.Kinds),
        Derivatives = SeedFolder.Read(CompoundTables.Derivatives),
        Questions = SeedFolder.Read(ObservationTables.Questions),
        SpotTests = SeedFolder.Read(ObservationTables.SpotTests),
        Responses = SeedFolder.Read(ObservationTables.Responses),
        Colours = SeedFolder.Read(ObservationTables.Colours),
        ColourExpectations = SeedFolder.Read(ObservationTables.ColourExpectations),
        Standards = SeedFolder.Read(ObservationTables.Standards),
    };
}
