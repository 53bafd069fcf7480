using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using static Derivid.Core.Tests.Curation.CuratedTable;

namespace Derivid.Core.Tests.Curation;

/// <summary>What a proposal changes of a table is held against what was listed before.</summary>
public sealed class ReplacementTests
{
    private static readonly Parent Propanal = Parent("propanone", "CCC=O", "67-64-1", ParentKind.Aldehyde, "acetone");

    [Fact]
    public void ListedCompoundDrawnAsAnotherIsTheFirstWarning()
    {
        // A warning that would come before it, were they ordered by kind.
        var after = Sound.Change<Parent>(RecordKinds.Parents, "propanone", _ => Propanal)
            .Change<Parent>(RecordKinds.Parents, "benzaldehyde", row => row with { Name = "TBD" });

        var found = TableValidation.Of(after, Sound, TestContext.Current.CancellationToken);

        Assert.DoesNotContain(found, finding => finding.Severity == FindingSeverity.Error);
        Assert.Equal(("propanone", "Smiles", "CCC=O"), (found[0].Key, found[0].Field, found[0].Value));
        foreach (var part in (string[])["CC(C)=O, C3H6O, a ketone", "another compound, C3H6O, an aldehyde", "CAS number 67-64-1 and 1 derivative"])
        {
            Assert.Contains(part, found[0].Allowed, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void OnlyWhatIsKeptOfTheOldCompoundIsWarnedOf()
    {
        var withoutNumber = Told(row => Propanal with { CasNumber = "123-38-6" }, table => table);
        var withoutBoth = Told(row => Propanal with { CasNumber = "123-38-6" }, table => table.Remove(RecordKinds.Derivatives, "propanone-semicarbazone"));
        var sameDrawnOtherwise = Told(row => row with { Smiles = "O=C(C)C" }, table => table);
        var labelled = Told(row => row with { Smiles = "[2H]CC(C)=O" }, table => table);

        Assert.DoesNotContain("CAS number", Assert.Single(withoutNumber), StringComparison.Ordinal);
        Assert.Empty(withoutBoth);
        Assert.Empty(sameDrawnOtherwise);
        Assert.Single(labelled);

        static IEnumerable<string> Told(Func<Parent, Parent> change, Func<ReferenceTable, ReferenceTable> more) =>
            TableValidation.Of(more(Sound.Change(RecordKinds.Parents, "propanone", change)), Sound)
                .Where(finding => finding is { Key: "propanone", Field: "Smiles" }).Select(finding => finding.Allowed);
    }

    [Theory]
    [InlineData("Smiles", "another structure than propanone")]
    [InlineData("CasNumber", "propanone has this one")]
    [InlineData("Name", "propanone has this one")]
    public void RepetitionIsToldOfTheRecordThatCame(string field, string told)
    {
        var added = Parent("a", "CC(C)=O", "67-64-1", ParentKind.Ketone, "Acetone");
        var after = Sound.Add(RecordKinds.Parents, added).Ordered();

        var finding = Assert.Single(TableValidation.Of(after, Sound, TestContext.Current.CancellationToken), finding => finding.Field == field);

        Assert.Equal("a", finding.Key);
        Assert.Contains(told, finding.Allowed, StringComparison.Ordinal);
        Assert.Equal("propanone", Assert.Single(TableValidation.Of(after), finding => finding.Field == field).Key);
    }

    [Theory]
    [InlineData("[2H]C([2H])([2H])C(=O)C([2H])([2H])[2H]", "666-52-4")]
    [InlineData("C[13C](C)=O", "3881-06-9")]
    public void LabelledCompoundIsNoRepetition(string smiles, string casNumber)
    {
        var after = Sound.Add(RecordKinds.Parents, Parent("labelled", smiles, casNumber, ParentKind.Ketone));

        Assert.DoesNotContain(TableValidation.Of(after), finding => finding.Field == "Smiles");
        Assert.Contains(
            TableValidation.Of(after.Add(RecordKinds.Parents, Parent("twice", smiles, "64-17-5", ParentKind.Ketone))),
            finding => finding is { Key: "twice", Field: "Smiles" });
    }

    [Fact]
    public void SeveralMoleculesAreWarnedOf()
    {
        var after = Sound.Add(RecordKinds.Parents, Parent("solvate", "CC(C)=O.CCO", "64-17-5", ParentKind.Ketone));

        var finding = Assert.Single(TableValidation.Of(after), finding => finding.Field == "Smiles");
        Assert.StartsWith("one molecule;", finding.Allowed, StringComparison.Ordinal);
    }

    [Fact]
    public void WhatIsMerelyNotThereYetIsToldLast()
    {
        var after = Sound.Add(
            RecordKinds.Parents,
            Parent("a", "CCC(C)=O", "78-93-3", ParentKind.Ketone) with { CasNumber = null },
            Parent("b", "CC(C)=O.CCO", "64-17-5", ParentKind.Ketone));

        Assert.Equal(["b Smiles", "a CasNumber", "a Key", "b Key"], TableValidation.Of(after).Select(finding => $"{finding.Key} {finding.Field}"));
    }

    [Theory]
    [InlineData("TBD", true)]
    [InlineData("see above", true)]
    [InlineData("N/A", true)]
    [InlineData("C8H8O", true)]
    [InlineData("C8H7ClO", true)]
    [InlineData("This is the ketone of page 12", true)]
    [InlineData("not sure.", true)]
    [InlineData("what?", true)]
    [InlineData("DDT", false)]
    [InlineData("CS", false)]
    [InlineData("methyl ethyl ketone", false)]
    [InlineData("oil of bitter almonds", false)]
    [InlineData("vitamin K3", false)]
    [InlineData("2-methylbutanal", false)]
    public void NameThatIsNoneIsWarnedOf(string name, bool isWarnedOf) => Assert.Equal(isWarnedOf, CompoundName.WhyNone(name) is not null);
}
