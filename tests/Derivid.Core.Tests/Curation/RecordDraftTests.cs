using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using static Derivid.Core.Tests.Curation.CuratedTable;

namespace Derivid.Core.Tests.Curation;

/// <summary>What of a record follows from the rest of it, and what a cell that can't be read leaves to say.</summary>
public sealed class RecordDraftTests
{
    [Theory]
    [InlineData("4-(2-Methylpropyl)benzaldehyde", "4-2-methylpropyl-benzaldehyde")]
    [InlineData("β-ionone", "beta-ionone")]
    [InlineData("1,2-di(furan-2-yl)ethane-1,2-dione", "1-2-di-furan-2-yl-ethane-1-2-dione")]
    public void CompoundIsThereByNameAndStructureAlone(string name, string key)
    {
        var draft = Draft(RecordKinds.Parents, ("Name", name), ("Smiles", "CCC(C)=O"));

        var parent = (Parent)WorkedOut(draft);

        Assert.True(draft.IsWhole);
        Assert.Equal((key, "C4H8O", 72.11, ParentKind.Ketone), (parent.Key, parent.Formula, parent.MolarMass, parent.Kind));
        Assert.Null(parent.CasNumber);
    }

    [Fact]
    public void WhatIsTypedStands()
    {
        var draft = Draft(RecordKinds.Parents, ("Key", "mine"), ("Name", "butan-2-one"), ("Smiles", "CCC(C)=O"), ("Formula", "C4"));

        var parent = (Parent)WorkedOut(draft);

        Assert.Equal(("mine", "C4", 72.11), (parent.Key, parent.Formula, parent.MolarMass));
    }

    [Fact]
    public void StructureThatCannotBeReadLeavesTheRestUnknownAndNotMissing()
    {
        var draft = Draft(RecordKinds.Parents, ("Name", "butan-2-one"), ("Smiles", "CCC(C=O"));

        WorkedOut(draft);

        Assert.Empty(draft.Missing);
        Assert.False(draft.IsWhole);
        Assert.True(draft.IsUnread("Formula") && draft.IsUnread("MolarMass") && draft.IsUnread("Kind"));
        Assert.Equal(["Formula", "MolarMass", "Kind"], Draft(RecordKinds.Parents, ("Name", "x")).Missing.Select(column => column.Field).Where(field => field is not ("Key" or "Smiles")));
    }

    [Fact]
    public void MeltingRangeIsNumberedUnlessItIsListed()
    {
        var listed = Sound.Derivatives.Single(row => row.Key == "propanone-semicarbazone");
        (string, object?)[] same =
        [
            ("ParentKey", "propanone"), ("KindKey", "semicarbazone"), ("LowCelsius", listed.LowCelsius), ("HighCelsius", listed.HighCelsius),
            ("SourceKey", listed.SourceKey), ("AsPrinted", listed.AsPrinted), ("Verification", listed.Verification), ("Corrected", listed.Corrected),
            ("Locator", listed.Locator), ("Note", listed.Note), ("ColourKey", listed.ColourKey), ("Form", listed.Form), ("Decomposes", listed.Decomposes),
        ];
        var surroundings = new DraftSurroundings(new TableIndex(Sound), (_, _) => null);
        surroundings.Use(RecordKinds.Derivatives, "propanone-semicarbazone-2");

        string KeyOf(RecordDraft draft)
        {
            RecordKinds.Derivatives.WorkOut(draft, surroundings);
            return ((Derivative)draft.Make(0, 0)).Key;
        }

        Assert.Equal(listed.Key, KeyOf(Draft(RecordKinds.Derivatives, same)));
        Assert.Equal("propanone-semicarbazone-1", KeyOf(Draft(RecordKinds.Derivatives, [.. same, ("LowCelsius", 101.0)])));
        Assert.Equal("propanone-semicarbazone-3", KeyOf(Draft(RecordKinds.Derivatives, [.. same, ("LowCelsius", 102.0)])));
    }

    [Fact]
    public void UnreadCellIsFilledInTwoWaysAndNothingElseDiffers()
    {
        var draft = Draft(RecordKinds.Parents, ("Key", "mine"), ("Name", "butan-2-one"), ("Smiles", "CCC(C)=O"));
        draft.Unread(RecordKinds.Parents.Columns.Single(column => column.Field == "MolarMass"));
        WorkedOut(draft);

        Assert.Equal(["MolarMass"], RecordKinds.Parents.ChangedFields(draft.Make(0, 7), draft.Make(1, 7)));
    }

    private static object WorkedOut(RecordDraft draft)
    {
        draft.Kind.WorkOut(draft, new DraftSurroundings(new TableIndex(Sound), (_, _) => null));
        return draft.Make(0, 0);
    }

    private static RecordDraft Draft(RecordKind kind, params (string Field, object? Value)[] values)
    {
        var draft = new RecordDraft(kind);
        foreach (var (field, value) in values)
        {
            draft[field] = value;
        }

        return draft;
    }
}
