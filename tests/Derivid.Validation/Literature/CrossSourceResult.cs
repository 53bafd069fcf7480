namespace Derivid.Validation.Literature;

/// <summary>How one leave-one-source-out case went.</summary>
/// <param name="Case">The case.</param>
/// <param name="Rank">Rank of the right parent.</param>
/// <param name="LogLoss">Minus the natural logarithm of its probability.</param>
/// <param name="NoneOfThese">Probability of "none of these".</param>
/// <param name="Leader">The parent ranked first.</param>
/// <param name="NearestRank">Rank of the right parent by nearest listed values; ties share the mean of their ranks.</param>
public sealed record CrossSourceResult(
    CrossSourceCase Case,
    int Rank,
    double LogLoss,
    double NoneOfThese,
    string Leader,
    double NearestRank);
