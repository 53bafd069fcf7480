using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Core.Teaching.Grading;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Seeding;

namespace Derivid.SeedTables.Tests.Teaching;

/// <summary>Who makes readings up, and who reads everything as it is listed, marked by the usual rubric.</summary>
/// <remarks>
/// A guesser reports of each derivative a crude range 5 °C wide and a recrystallised one 1 °C wide, clear somewhere from 60 to
/// 260 °C, and claims nothing: of the 34 points the 10 for derivatives can be earned so. Mean of 1,000 reports of the invented
/// class by version of the marking rules, and by derivatives expected:
/// <code>
///                              1 expected    2 expected
///                              1      2      1      2
/// a 2,4-DNPH                   6.30   0.94   3.15   0.47
/// both kinds offered           6.63   1.09   6.34   1.09
/// an anil, not offered         9.51   0      4.75   0
/// all ten kinds of the table   10.00  1.04   10.00  1.04
/// </code>
/// Whoever looks up which temperature suits most of the shelf earned 7 and earns 4; with the derivative made, 10. A whole report made up
/// around a compound earns 10.0 of 34, the mean of the eight. Where the best of several counts, one a compound in any order:
/// <code>
/// of 8 compounds, 2 points taken an attempt, 6 at most: best of 2 14.2, of 3 17.3, of 4 19.8, of 8 29.5
///                 7 taken, 7 at most:                   best of 2 12.7
///                 20 taken, 40 at most:                 best of 3 10.9
/// of 24, 2 taken, 6 at most:                            best of 2 10.0; one 7.8
/// </code>
/// </remarks>
public sealed class GuesserTests(ITestOutputHelper output)
{
    private const int Reports = 1000;

    private static readonly TableSnapshot Snapshot = TableSnapshot.Build(Store.Seeding.SeedTables.Load(), ModelSettingsReader.BuiltIn());

    private static readonly string[] Dnph = ["2-4-dinitrophenylhydrazone"];

    private static readonly string[] Kinds = [.. Dnph, "semicarbazone"];

    private static readonly string[] All = [.. Snapshot.Kinds.Select(kind => kind.Kind.Key)];

    private static readonly Laboratory Invented = new()
    {
        ShelfKeys =
        [
            "propanone", "butanone", "pentan-3-one", "cyclohexanone", "cyclopentanone", "benzaldehyde", "acetophenone",
            "cinnamaldehyde",
        ],
        KindKeys = Kinds,
        SpotTestKeys = ["tollens", "iodoform"],
    };

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void MadeUpRangesEarnNextToNothingAndANetNoMoreThanOne(int expected)
    {
        var offered = Kinds.Select(kind => Mean([kind], expected)).ToList();
        var (both, net) = (Mean(Kinds, expected), Mean(All, expected));
        var others = All.Except(Kinds).Select(kind => Mean([kind], expected)).ToList();
        output.WriteLine($"one {offered[0]:0.00} or {offered[1]:0.00}, both {both:0.00}, all {net:0.00}, others {others.Max():0.00}");

        // A tenth of a point is about one standard error of such a mean.
        Assert.All(offered, mean => Assert.InRange(mean, 0, 1.3));
        Assert.InRange(both, 0, expected * (offered.Average() + 0.1));
        Assert.Equal(both, net, 0.1);
        Assert.All(others, mean => Assert.Equal(0, mean));
    }

    [Fact]
    public void WhereACourseNamesNoKindsANetOverAllOfThemEarnsNoMoreThanOneRange()
    {
        var single = All.Max(kind => Mean([kind], 1, offered: []));
        var net = Mean(All, 1, offered: []);
        output.WriteLine($"one {single:0.00}, all {net:0.00}");

        Assert.InRange(net, 0, single);
        Assert.InRange(single, 0, 1.3);
    }

    [Fact]
    public void TemperatureThatFitsMostOfTheShelfEarnsLessThanHavingMadeTheDerivative()
    {
        // The best that can be done with the handbook and no crystals: the one clear point, of one kind or the other, that
        // earns most over the shelf. Who knows what is in the vial earns 10.
        var best = Kinds.Max(kind => Enumerable.Range(60, 200).Max(clear => Invented.ShelfKeys.Average(key => Points(key, 1, Kinds, Sharp(kind, clear)))));
        output.WriteLine($"{best:0.00}");

        Assert.InRange(best, 0, 5);
    }

    // Who makes nothing and hands in the handbook's values of one compound, whichever was handed out: everything of it fits
    // together. Before version 3 of the marking rules the mean of 34 points was 15 to 17; one of eight such reports is right.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void WholeReportMadeUpAroundACompoundEarnsLittleMoreThanTheGuessItself(int expected)
    {
        var rubric = Rubric.Usual with { ExpectedDerivatives = expected };
        foreach (var claimed in Invented.ShelfKeys)
        {
            var (mean, wrong) = (
                Invented.ShelfKeys.Average(handedOut => (double)MadeUp(claimed, handedOut, Invented, rubric)),
                Invented.ShelfKeys.Where(handedOut => handedOut != claimed).Average(handedOut => (double)MadeUp(claimed, handedOut, Invented, rubric)));
            output.WriteLine($"{claimed} {mean:0.0}, where it is wrong {wrong:0.0}");

            Assert.InRange(mean, 0, 12.5);
            Assert.InRange(wrong, 0, 9.5);
        }
    }

    // Where the best of several such reports counts, one a compound: of eight compounds or of 24.
    [Theory]
    [InlineData(8, 2, 2, 6, true)]
    [InlineData(8, 3, 2, 6, true)]
    [InlineData(8, 4, 2, 6, true)]
    [InlineData(8, 8, 2, 6, true)]
    [InlineData(8, 2, 7, 7, false)]
    [InlineData(8, 3, 20, 40, false)]
    [InlineData(8, 8, 20, 34, false)]
    [InlineData(24, 2, 2, 6, false)]
    public void BestOfSeveralMadeUpReportsEarnsLittleMoreThanOneUnlessTheStaffAreWarned(int shelf, int attempts, int each, int most, bool isWarned)
    {
        var laboratory = shelf == Invented.ShelfKeys.Count ? Invented : Invented with { ShelfKeys = [.. Listed().Take(shelf)] };
        var rubric = Rubric.Usual with { Attempts = new AttemptsDeduction { PointsPerAttempt = each, MostPoints = most } };
        var keys = laboratory.ShelfKeys;
        var points = keys.Select(claimed => keys.Select(handedOut => Enumerable.Range(1, attempts)
            .Select(attempt => (double)MadeUp(claimed, handedOut, laboratory, rubric, attempt)).ToList()).ToList()).ToList();
        var (single, best) = (BestOf(1), BestOf(attempts));
        output.WriteLine($"{attempts} of {shelf}, {each} each, {most} at most: {best:0.0}, one {single:0.0}");

        // Without a warning the further ones gain no more than a tenth of the 34 points, and with one they do.
        Assert.Equal(isWarned, GuessedAttempts.Of(rubric, attempts, shelf) is not null);
        Assert.Equal(isWarned, best - single > 3.4);
        Assert.InRange(single, 0, 12.5);

        // The mean over all compounds handed out and orders in which the others may be tried.
        double BestOf(int tried)
        {
#pragma warning disable CA5394
            var random = new Random(1);
            return Enumerable.Range(0, Reports).Average(_ =>
            {
                var order = Enumerable.Range(0, shelf).ToArray();
                random.Shuffle(order);
                return Enumerable.Range(0, shelf).Average(handedOut => Enumerable.Range(0, tried).Max(attempt => points[order[attempt]][handedOut][attempt]));
            });
#pragma warning restore CA5394
        }

        static IEnumerable<string> Listed() => Snapshot.Parents.Select(parent => parent.Key)
            .Where(key => Snapshot.TryFindParent(key, out var parent) && Kinds.All(kind => Snapshot.Kind(kind).Listed.Of(parent).Count > 0))
            .Order(StringComparer.Ordinal);
    }

    // Of a report honestly made by somebody who claims the wrong compound, nothing is lost by it.
    [Fact]
    public void BoilingPointOfWhatWasHandedOutBearsAClaimOut()
    {
        decimal Supported(string handedOut, double celsius) => Grader.Grade(
            new Report
            {
                ClaimedParentKey = handedOut,
                Observation = new Observation { BoilingPoint = new BoilingPointReading(new MeltingRange(celsius - 1, celsius)) },
            },
            new Unknown(handedOut, Invented.ShelfKeys) { KindKeys = Kinds },
            Rubric.Usual,
            Snapshot).Lines.Single(line => line.Criterion == CriterionKind.SupportedClaim).Points;

        // Normal boiling points 56 and 202 °C, as the table lists them.
        Assert.Equal(6, Supported("propanone", 56));
        Assert.Equal(0, Supported("acetophenone", 56));
    }

    public static TheoryData<string, Laboratory> Laboratories => new()
    {
        { "the invented class", Invented },
        { "one test", Invented with { SpotTestKeys = ["tollens"] } },
        { "one kind", Invented with { KindKeys = ["semicarbazone"] } },
        { "a kind with gaps", Invented with { KindKeys = ["oxime", "dimedone-derivative"] } },
        { "everything", Invented with { KindKeys = All, SpotTestKeys = [.. Snapshot.SpotTests.Tests.Select(test => test.Key)] } },
        { "nothing named", Invented with { KindKeys = [], SpotTestKeys = [] } },
        {
            "the course of the examples of the service",
            Invented with { ShelfKeys = ["propanone", "butanone", "pentan-3-one", "cyclohexanone", "benzaldehyde", "acetophenone"] }
        },
    };

    [Theory]
    [MemberData(nameof(Laboratories))]
    public void PerfectReportHasAllPointsInEveryLaboratory(string name, Laboratory laboratory)
    {
        foreach (var expected in new[] { 1, 2, 5 })
        {
            foreach (var key in laboratory.ShelfKeys)
            {
                var grade = Grader.Grade(
                    Perfect(key, laboratory),
                    new Unknown(key, laboratory.ShelfKeys) { KindKeys = laboratory.KindKeys, SpotTestKeys = laboratory.SpotTestKeys },
                    Rubric.Usual with { ExpectedDerivatives = expected },
                    Snapshot);

                // Whether the evidence bears a claim out hangs on what else is on the shelf, which the check of the shelf tells.
                Assert.All(
                    grade.Lines.Where(line => line.Criterion != CriterionKind.SupportedClaim || laboratory == Invented),
                    line => Assert.True(line.Points == line.Maximum, $"{name}, {key}: {line.Criterion} {line.Sentence}"));
                Assert.Equal(Comparable(key, laboratory) ? 34 : 24, grade.Maximum);
            }
        }
    }

    /// <summary>Points of a report made up around a compound: all that the table lists of it.</summary>
    private static decimal MadeUp(string claimed, string handedOut, Laboratory laboratory, Rubric rubric, int attempt = 1)
    {
        var report = Perfect(claimed, laboratory);
        Assert.True(Snapshot.TryFindParent(claimed, out var parent));
        return Grader.Grade(
            report with
            {
                Attempt = attempt,
                Observation = report.Observation with
                {
                    BoilingPoint = Snapshot.BoilingPoints.Of(parent) is [var boiling, ..] ? new BoilingPointReading(new MeltingRange(boiling.LowCelsius, boiling.HighCelsius)) : null,
                    MolarMass = new MolarMassReading(Snapshot.Parents[parent].MolarMass, 0.01),
                },
            },
            new Unknown(handedOut, laboratory.ShelfKeys) { KindKeys = Kinds, SpotTestKeys = laboratory.SpotTestKeys },
            rubric,
            Snapshot).Total;
    }

    /// <summary>Everything the laboratory offers, as listed; of what isn't listed something, and a test that may go either way goes one.</summary>
    private static Report Perfect(string key, Laboratory laboratory)
    {
        Assert.True(Snapshot.TryFindParent(key, out var parent));
        var kinds = laboratory.KindKeys.Count == 0 ? All : laboratory.KindKeys;
        var tests = laboratory.SpotTestKeys.Count == 0 ? ["tollens", "iodoform"] : laboratory.SpotTestKeys;
        return new Report
        {
            ClaimedParentKey = key,
            Observation = new Observation
            {
                Derivatives =
                [
                    .. kinds.SelectMany(kind => Sharp(
                        kind, Snapshot.Kind(kind).Listed.Of(parent).MaxBy(value => value.Weight)?.HighCelsius ?? 150)),
                ],
                SpotTests =
                [
                    .. tests.Select(test => new SpotTestReading(test, Snapshot.SpotTests.Expected(test, parent) switch
                    {
                        SpotTestOutcome.Doubtful => SpotTestOutcome.Positive,
                        var outcome => outcome,
                    })),
                ],
            },
        };
    }

    private static bool Comparable(string key, Laboratory laboratory) =>
        Snapshot.TryFindParent(key, out var parent)
        && Snapshot.Kinds.Any(kind => (laboratory.KindKeys.Count == 0 || laboratory.KindKeys.Contains(kind.Kind.Key))
            && kind.Listed.Of(parent).Count > 0);

    /// <summary>Points of reports that make these kinds up. Units: points, the mean.</summary>
    private static double Mean(string[] kinds, int expected, string[]? offered = null)
    {
        // Not for secrets: the same numbers in every run.
#pragma warning disable CA5394
        var random = new Random(1);
        return Enumerable.Range(0, Reports).Average(i => Points(
            Invented.ShelfKeys[i % Invented.ShelfKeys.Count],
            expected,
            offered ?? Kinds,
            [.. kinds.SelectMany(kind => Sharp(kind, 60 + (200 * random.NextDouble())))]));
#pragma warning restore CA5394
    }

    private static double Points(string handedOut, int expected, string[] offered, DerivativeReading[] readings) => (double)Grader.Grade(
        new Report { Observation = new Observation { Derivatives = readings } },
        new Unknown(handedOut, Invented.ShelfKeys) { KindKeys = offered },
        Rubric.Usual with { ExpectedDerivatives = expected },
        Snapshot).Total;

    private static DerivativeReading[] Sharp(string kind, double clear) =>
    [
        new(kind, new MeltingRange(clear - 6, clear - 1), Preparation.Crude),
        new(kind, new MeltingRange(clear - 1, clear), Preparation.Recrystallised),
    ];
}
