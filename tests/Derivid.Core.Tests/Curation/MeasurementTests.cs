using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Melting;
using static Derivid.Core.Tests.Curation.CuratedTable;

namespace Derivid.Core.Tests.Curation;

/// <summary>A value measured by the project says how, and print is confirmed by it.</summary>
public sealed class MeasurementTests
{
    private const string Key = "zz-measured";
    private const string Printed = "propanone-semicarbazone";

    public static TheoryData<string, Func<Derivative, Derivative>> Claims => new()
    {
        { "", row => row },
        { "MeasuredBy", row => row with { MeasuredBy = null } },
        { "Instrument", row => row with { Instrument = null } },
        { "Determinations", row => row with { Determinations = null } },
        { "Determinations", row => row with { Determinations = 0 } },
        { "MeanCelsius", row => row with { MeanCelsius = null } },
        { "MeanCelsius", row => row with { MeanCelsius = 188.6 } },
        { "", row => row with { MeanCelsius = 188.5 } },
        { "SpreadCelsius", row => row with { SpreadCelsius = null } },
        { "SpreadCelsius", row => row with { SpreadCelsius = -0.1 } },
        { "SpreadCelsius", row => row with { Determinations = 1 } },
        { "", row => row with { Determinations = 1, SpreadCelsius = null } },
        { "SpreadCelsius", row => row with { SpreadCelsius = 0 } },
        { "SpreadCelsius", row => row with { LowCelsius = 188, HighCelsius = 188, Determinations = 3, SpreadCelsius = 9999 } },
        { "SpreadCelsius", row => row with { LowCelsius = 188, HighCelsius = 188, SpreadCelsius = 0.06 } },
        { "", row => row with { LowCelsius = 188, HighCelsius = 188, SpreadCelsius = 0 } },
        { "SpreadCelsius", row => row with { LowCelsius = 10, HighCelsius = 300, MeanCelsius = 20, Determinations = 3, SpreadCelsius = 0 } },
        { "", row => row with { Determinations = 2, SpreadCelsius = 0.707 } },
        { "", row => row with { Determinations = 2, SpreadCelsius = 0.71 } },
        { "SpreadCelsius", row => row with { Determinations = 2, SpreadCelsius = 0.72 } },
        { "SpreadCelsius", row => row with { Determinations = 5, SpreadCelsius = 0.62 } },
        { "", row => row with { Determinations = 5, SpreadCelsius = 0.6 } },
        { "SpreadCelsius", row => row with { SpreadCelsius = 1e300 } },
        { "AsPrinted", row => row with { AsPrinted = "187.5-188.5" } },
        { "SourceKey", row => row with { SourceKey = "journal" } },
        {
            "Determinations, Instrument, MeanCelsius, MeasuredBy, SpreadCelsius",
            row => row with { Verification = Verification.Read }
        },
    };

    [Theory]
    [MemberData(nameof(Claims))]
    public void MeasurementSaysAllOfItAndNothingElseDoes(string fields, Func<Derivative, Derivative> change)
    {
        ArgumentNullException.ThrowIfNull(change);
        var errors = TableValidation.ErrorsOf(With(change(Measured))).Where(finding => finding.Key == Key);

        Assert.Equal(fields, string.Join(", ", errors.Select(finding => finding.Field).Order(StringComparer.Ordinal)));
    }

    [Fact]
    public void SpreadThatCannotBeSaysWhatCouldAndBySource()
    {
        var finding = Assert.Single(TableValidation.ErrorsOf(With(Measured with { Determinations = 2, SpreadCelsius = 9999 })));

        Assert.Equal(("SpreadCelsius", "9999"), (finding.Field, finding.Value));
        Assert.StartsWith("at most 0.707: 2 values from 187.5 to 188.5", finding.Allowed, StringComparison.Ordinal);
        Assert.Contains("Popoviciu's inequality", finding.Allowed, StringComparison.Ordinal);
    }

    [Fact]
    public void MeasurementConfirmsPrintWhateverFamilyAndStaysOne()
    {
        var table = With(Measured, family: "journal");
        var all = PrintedSpan.AllOf(table).Where(span => span.ParentKey == "propanone" && span.Quantity.KindKey == "semicarbazone").ToList();

        Assert.All(all, span => Assert.True(TableAgreement.IsConfirmed(span, all)));
        Assert.Equal(
            [$"{Printed} Verification"],
            TableValidation.Of(table).Where(finding => finding.Field == "Verification").Select(finding => $"{finding.Key} {finding.Field}"));

        // Farther off it confirms nothing, and two measurements of one family don't confirm each other.
        var far = all.Select(span => span.Verification == Verification.Measured ? span with { LowCelsius = 199, HighCelsius = 200 } : span).ToList();
        Assert.DoesNotContain(far, span => TableAgreement.IsConfirmed(span, far));
        var own = all.Where(span => span.Verification == Verification.Measured).ToList();
        Assert.False(TableAgreement.IsConfirmed(own[0], [own[0], own[0]]));
    }

    [Fact]
    public void MeasuredConstantIsHeldToTheSame()
    {
        var constant = Sound.Constants.First(row => row.Property == ParentProperty.MeltingPoint) with
        {
            SourceKey = "own",
            Verification = Verification.Measured,
            MeasuredBy = "A. B.",
            Instrument = "capillary",
            Determinations = 3,
            Spread = 0,
        };
        var table = With(Measured).Add(RecordKinds.ParentConstants, constant with { Mean = constant.Low });
        var lacking = With(Measured).Add(RecordKinds.ParentConstants, constant);

        Assert.Empty(TableValidation.ErrorsOf(table));
        Assert.Equal("Mean", Assert.Single(TableValidation.ErrorsOf(lacking)).Field);
    }

    [Fact]
    public void StandardIsCertifiedAndNotMeasuredHere()
    {
        var table = With(Measured).Change<MeltingPointStandard>(
            RecordKinds.MeltingPointStandards, Sound.Standards[0].Key, row => row with { SourceKey = "own", Verification = Verification.Measured });

        Assert.Equal("Verification", Assert.Single(TableValidation.ErrorsOf(table)).Field);
    }

    private static Derivative Measured => Sound.Derivatives.Single(row => row.Key == Printed) with
    {
        Key = Key,
        SourceKey = "own",
        LowCelsius = 187.5,
        HighCelsius = 188.5,
        AsPrinted = null,
        Verification = Verification.Measured,
        MeasuredBy = "A. B.",
        Instrument = "capillary in a heated block",
        Determinations = 5,
        MeanCelsius = 188,
        SpreadCelsius = 0.3,
    };

    private static ReferenceTable With(Derivative record, string family = "own") => Sound
        .Add(RecordKinds.Sources, new Source("own", "Measured for the table", null, SourceGrade.Measured, family, SourceReading.None))
        .Add(RecordKinds.Derivatives, record);
}
