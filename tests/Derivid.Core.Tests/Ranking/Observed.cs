using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Tests.Ranking;

/// <summary>Short ways to write observations in tests.</summary>
internal static class Observed
{
    public static DerivativeReading Dnph(
        double onset, double clearPoint, Preparation preparation = Preparation.Recrystallised, string? colour = null) =>
        new(TestTable.Dnph, new MeltingRange(onset, clearPoint), preparation, colour);

    public static DerivativeReading Semicarbazone(double onset, double clearPoint) =>
        new(TestTable.Semicarbazone, new MeltingRange(onset, clearPoint), Preparation.Recrystallised);

    public static DerivativeReading Came(string kind, Precipitate precipitate) =>
        new(kind, null, Precipitate: precipitate);

    public static SpotTestReading Positive(string test) => new(test, SpotTestOutcome.Positive);

    public static SpotTestReading Negative(string test) => new(test, SpotTestOutcome.Negative);

    public static double ProbabilityOf(this PosteriorView view, TableSnapshot snapshot, string parent) =>
        snapshot.TryFindParent(parent, out var index)
            ? view.Probability[index]
            : throw new ArgumentException($"No parent '{parent}'.", nameof(parent));

    public static double LogRatioOf(this PosteriorView view, TableSnapshot snapshot, string parent) =>
        snapshot.TryFindParent(parent, out var index)
            ? view.LogLikelihoodRatio[index]
            : throw new ArgumentException($"No parent '{parent}'.", nameof(parent));
}
