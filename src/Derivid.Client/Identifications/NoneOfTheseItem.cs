namespace Derivid.Client.Identifications;

/// <summary>The alternative that the compound is not among those considered.</summary>
/// <param name="Prior">Probability before all evidence.</param>
/// <param name="Posterior">Probability after all evidence.</param>
/// <param name="LogLikelihoodRatio">Natural logarithm, on the candidates' scale.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record NoneOfTheseItem(double Prior, double Posterior, double LogLikelihoodRatio, string Sentence);
