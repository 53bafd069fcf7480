using Derivid.Core.Curation;

namespace Derivid.Store.Seeding;

/// <summary>The table file of each kind of record.</summary>
public static class RecordFiles
{
    /// <summary>The file that holds records of a kind.</summary>
    /// <param name="kind">The kind.</param>
    public static CsvFile Of(RecordKind kind) => kind switch
    {
        RecordKind.Source => CompoundTables.Sources,
        RecordKind.Parent => CompoundTables.Parents,
        RecordKind.ParentConstant => CompoundTables.Constants,
        RecordKind.DerivativeKind => CompoundTables.Kinds,
        RecordKind.Colour => ObservationTables.Colours,
        RecordKind.Derivative => CompoundTables.Derivatives,
        RecordKind.SpotTestQuestion => ObservationTables.Questions,
        RecordKind.SpotTest => ObservationTables.SpotTests,
        RecordKind.SpotTestResponse => ObservationTables.Responses,
        RecordKind.ColourExpectation => ObservationTables.ColourExpectations,
        RecordKind.MeltingPointStandard => ObservationTables.Standards,
    };
}
