using System.Text.RegularExpressions;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Practice;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests;

/// <summary>Every value says where it comes from and how far it was followed back.</summary>
public sealed partial class ProvenanceTests
{
    [Fact]
    public void EverySourceExistsAndIsUsed()
    {
        var used = Table.Derivatives.Select(derivative => derivative.SourceKey)
            .Concat(Table.Constants.Select(constant => constant.SourceKey))
            .Concat(Table.Kinds.Select(kind => kind.SourceKey))
            .Concat(Table.Questions.Select(question => question.SourceKey))
            .Concat(Table.SpotTests.Select(test => test.SourceKey))
            .Concat(Table.Responses.Select(response => response.SourceKey))
            .Concat(Table.ColourExpectations.Select(expectation => expectation.SourceKey))
            .Concat(Table.Standards.Select(standard => standard.SourceKey))
            .Concat(SeedFolder.Read(LeftOut.File).Select(value => value.SourceKey))
            .Concat(ByProduct.All.Select(byProduct => byProduct.SourceKey))
            .Concat(PracticeSubstance.All.Select(substance => substance.SourceKey))
            .Concat(ReagentRecipe.All.Select(recipe => recipe.SourceKey))
            .Concat(PreparationAdvice.All.Select(advice => advice.SourceKey))
            .Concat(ReadingTests.Cited().Select(cited => cited.SourceKey))
            .ToHashSet();

        Assert.Empty(used.Except(Sources.Keys));
        Assert.Empty(Sources.Keys.Except(used));
    }

    [Fact]
    public void RecalledIsWhatWasNotReadAndReadWhatWas()
    {
        Assert.All(PrintedSpan.AllOf(Table), span => AssertState(span.Source, span.Verification, span.ToString()));
        Assert.All(Table.Constants, constant =>
            AssertState(Sources[constant.SourceKey], constant.Verification, constant.ToString()));
        Assert.All(Table.Standards, standard =>
            AssertState(Sources[standard.SourceKey], standard.Verification, standard.Key));
    }

    [Fact]
    public void RecalledSourcesAreOneFamily() =>
        Assert.All(
            Table.Sources.Where(source => source.HowRead == SourceReading.Memory),
            source => Assert.Equal("handbooks", source.Family));

    [Fact]
    public void CrossCheckedIsExactlyWhatAnIndependentSourceConfirms()
    {
        var spans = PrintedSpan.AllOf(Table);

        Assert.All(spans, span => Assert.True(
            TableAgreement.IsConfirmed(span, spans) == (span.Verification == Verification.CrossChecked),
            span.ToString()));
    }

    /// <summary>Source without an address: the public notes whose repository the index did not name.</summary>
    [Fact]
    public void EveryValueReadLeadsBackToARowOrAPage() =>
        Assert.All(Table.Derivatives, derivative =>
        {
            var source = Sources[derivative.SourceKey];
            Assert.True(
                source.HowRead switch
                {
                    SourceReading.Memory => true,
                    SourceReading.DataSetRead => RowOrEntry().IsMatch(derivative.Locator ?? ""),
                    _ => derivative.Locator is not null || source.Address is not null || source.Key == "a-level-notes",
                },
                derivative.Key);
        });

    [Fact]
    public void PrintedTextReadsBackAsTheStoredNumbers() =>
        Assert.All(Table.Derivatives, derivative =>
        {
            var parsed = MeltingRangeText.Parse(derivative.AsPrinted!).Range;
            Assert.Equal(
                new MeltingRange(derivative.LowCelsius, derivative.HighCelsius, derivative.Decomposes),
                parsed);
        });

    [Fact]
    public void LowIsNotAboveHigh()
    {
        Assert.All(Table.Derivatives, derivative =>
            Assert.True(derivative.LowCelsius <= derivative.HighCelsius, derivative.Key));
        Assert.All(Table.Constants, constant => Assert.True(constant.Low <= constant.High, constant.ToString()));
        Assert.All(Table.Kinds, kind => Assert.True(kind.UsualLowCelsius < kind.UsualHighCelsius, kind.Key));
    }

    [Fact]
    public void ValueOutsideTheUsualSpanOfItsKindIsMarked() =>
        Assert.All(Table.Derivatives, derivative =>
        {
            var kind = Kinds[derivative.KindKey];
            var isUsual = derivative.LowCelsius >= kind.UsualLowCelsius && derivative.HighCelsius <= kind.UsualHighCelsius;
            Assert.True(isUsual != derivative.IsUnusual, derivative.Key);
        });

    [Fact]
    public void OnlyBoilingPointsHaveAPressure() =>
        Assert.All(Table.Constants, constant => Assert.Equal(
            constant.Property == ParentProperty.BoilingPoint,
            constant.PressureKilopascals is not null));

    [GeneratedRegex(@"\brow \d+|\bentry \d|\bupstream \w")]
    private static partial Regex RowOrEntry();

    private static void AssertState(Source source, Verification verification, string what) =>
        Assert.True(
            verification == Verification.CrossChecked
            || (verification == Verification.Recalled) == (source.HowRead == SourceReading.Memory),
            what);
}
