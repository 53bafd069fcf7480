using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.SpotTests;
using Derivid.Core.Structures;
using static Derivid.Core.Tests.Curation.CuratedTable;

namespace Derivid.Core.Tests.Curation;

/// <summary>What a finding asks for, and the last value that it lets pass.</summary>
public sealed class FindingTests
{
    private const string OfPropanone = "propanone-semicarbazone";

    [Fact]
    public void StateThatShouldBeAnotherIsToldWhichAndWhy()
    {
        var confirmed = Sound.Add(RecordKinds.Derivatives, Derivative("propanone", "semicarbazone", 188, "other-journal"));
        var unconfirmed = Of(Sound, row => row with { Verification = Verification.CrossChecked });
        var recalled = Of(Sound, row => row with { Verification = Verification.Recalled });
        var read = Of(Sound, row => row with { SourceKey = "handbook" });

        Assert.StartsWith("cross-checked:", Asked(confirmed, OfPropanone, "Verification"), StringComparison.Ordinal);
        Assert.StartsWith("recalled or read:", Asked(unconfirmed, OfPropanone, "Verification"), StringComparison.Ordinal);
        Assert.StartsWith("read, since", Asked(recalled, OfPropanone, "Verification"), StringComparison.Ordinal);
        Assert.StartsWith("recalled, since", Asked(read, OfPropanone, "Verification"), StringComparison.Ordinal);
    }

    [Fact]
    public void PressureIsAskedForOfABoilingPointAndOfNothingElse()
    {
        ReferenceTable With(string key, double? kilopascals) => Sound.Change<ParentConstant>(
            RecordKinds.ParentConstants, key, row => row with { PressureKilopascals = kilopascals });

        const string boils = "propanone:boiling-point:other-journal:56";
        const string melts = "benzaldehyde:melting-point:other-journal:-26";
        Assert.StartsWith("the pressure of", Asked(With(boils, null), boils, "PressureKilopascals"), StringComparison.Ordinal);
        Assert.StartsWith("no pressure", Asked(With(melts, 100), melts, "PressureKilopascals"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(-200, 100, false, false)]
    [InlineData(-200.1, 100, true, false)]
    [InlineData(100, 450, false, false)]
    [InlineData(100, 450.1, false, true)]
    public void BoundsOfARangeHoldWhateverWasPrinted(double low, double high, bool isTooLow, bool isTooHigh)
    {
        var errors = TableValidation.Of(Of(Sound, row => row with { LowCelsius = low, HighCelsius = high }))
            .Where(finding => finding.Key == OfPropanone && finding.Severity == FindingSeverity.Error)
            .Select(finding => finding.Field)
            .ToList();

        Assert.Equal(isTooLow, errors.Contains("LowCelsius"));
        Assert.Equal(isTooHigh, errors.Contains("HighCelsius"));
    }

    [Theory]
    [InlineData(true, "with dec.")]
    [InlineData(false, "without dec.")]
    public void PrintedRangeThatDiffersIsToldTheFiguresOfTheRecord(bool decomposes, string ending) =>
        Assert.EndsWith(
            $"188 to 188 °C {ending}",
            Asked(Of(Sound, row => row with { AsPrinted = "190", Decomposes = decomposes }), OfPropanone, "AsPrinted"),
            StringComparison.Ordinal);

    [Fact]
    public void UnreadableRangeIsToldWhatIsWrongWithIt() =>
        Assert.Contains("reversed", Asked(Of(Sound, row => row with { AsPrinted = "190-180" }), OfPropanone, "AsPrinted"), StringComparison.Ordinal);

    [Fact]
    public void UnknownFeatureIsNamed()
    {
        var table = Sound.Change<DerivativeKind>(RecordKinds.DerivativeKinds, "oxime", kind => kind with { AppliesTo = "aldehyde+nonsense" });

        Assert.Contains("nonsense", Asked(table, "oxime", "AppliesTo"), StringComparison.Ordinal);
    }

    [Fact]
    public void ValueIsCutOnlyBeyondAHundredCharacters()
    {
        string Told(int length) => TableValidation.Of(Sound.Change<Parent>(
            RecordKinds.Parents, "propanone", parent => parent with { CasNumber = new string('1', length) }))
            .Single(finding => finding.Field == "CasNumber").Value;

        Assert.Equal(new string('1', 100), Told(100));
        Assert.Equal(new string('1', 100) + "…", Told(101));
    }

    [Fact]
    public void OrderBelowOneAsksForOneOrMoreBesidesTheRightPlace()
    {
        var table = Sound.Change<SpotTestResponse>(RecordKinds.SpotTestResponses, "tollens:1", row => row with { Order = 0 });

        Assert.Contains("1 or more", TableValidation.Of(table).Where(finding => finding.Field == "Order").Select(finding => finding.Allowed));
    }

    [Theory]
    [InlineData(1e9, false)]
    [InlineData(1.1e9, true)]
    public void LargestNumberIsAThousandMillion(double minutes, bool isTooLarge) =>
        Assert.Equal(
            isTooLarge,
            TableValidation.Of(Sound.Change<SpotTest>(RecordKinds.SpotTests, "tollens", test => test with { Minutes = minutes }))
                .Any(finding => finding.Field == "Minutes" && finding.Allowed.StartsWith("0, or a number", StringComparison.Ordinal)));

    [Fact]
    public void FindingsOfOneKindComeInTheOrderOfTheirKeys()
    {
        var table = Sound
            .Change<Parent>(RecordKinds.Parents, "propanone", parent => parent with { CasNumber = "1" })
            .Change<Parent>(RecordKinds.Parents, "benzaldehyde", parent => parent with { CasNumber = "2" })
            .Change<Source>(RecordKinds.Sources, "journal", source => source with { Family = " " });

        Assert.Equal(["journal", "benzaldehyde", "propanone"], TableValidation.Of(table).Select(finding => finding.Key));
    }

    [Fact]
    public void NameIsToldBeforeASynonym()
    {
        var table = Sound.Change<Parent>(RecordKinds.Parents, "propanone", parent => parent with { Synonyms = ["propanones"] });

        var duplicate = Assert.Single(ComputedParent.Of(
            SmilesReader.Read("CCCC(=O)CCC").Molecule!, "propanone", table).Duplicates);
        Assert.Contains("\"propanone\"", duplicate.Reason, StringComparison.Ordinal);
    }

    private static ReferenceTable Of(ReferenceTable table, Func<Derivative, Derivative> change) =>
        table.Change(RecordKinds.Derivatives, OfPropanone, change);

    private static string Asked(ReferenceTable table, string key, string field) =>
        Assert.Single(TableValidation.Of(table), finding => finding.Key == key && finding.Field == field).Allowed;
}
