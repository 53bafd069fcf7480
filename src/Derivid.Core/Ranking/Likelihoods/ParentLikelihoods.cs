using System.Numerics.Tensors;

namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>One observation weighed against every parent of a snapshot.</summary>
internal abstract class ParentLikelihoods
{
    /// <summary>Larger than the rounding of a sum of logarithms, and smaller than anything that could matter.</summary>
    private const double Rounding = 1e-12;

    private readonly double[] _logLikelihood;
    private readonly double[] _unlistedLogLikelihood;

    /// <summary>Takes the likelihoods.</summary>
    /// <param name="kind">What sort of observation it is.</param>
    /// <param name="subject">What it is about. Missing: null.</param>
    /// <param name="likelihood">Shape: one a parent, above 0. Turned into logarithms in place.</param>
    /// <param name="relative">The same for an unlisted relative; may be the same array.</param>
    protected ParentLikelihoods(EvidenceKind kind, string? subject, double[] likelihood, double[] relative)
    {
        Kind = kind;
        Subject = subject;
        LogReference = Math.Log(TensorPrimitives.Sum<double>(likelihood) / likelihood.Length);
        _logLikelihood = likelihood;
        _unlistedLogLikelihood = relative;
        TensorPrimitives.Log(likelihood, likelihood);
        if (!ReferenceEquals(likelihood, relative))
        {
            TensorPrimitives.Log(relative, relative);
        }
    }

    /// <summary>What sort of observation it is.</summary>
    public EvidenceKind Kind { get; }

    /// <summary>What it is about. Missing: null.</summary>
    public string? Subject { get; }

    /// <summary>Logarithm of the mean likelihood over the table: a parent drawn at random.</summary>
    public double LogReference { get; }

    /// <summary>Log likelihood, by parent.</summary>
    public ReadOnlySpan<double> LogLikelihood => _logLikelihood;

    /// <summary>Log likelihood of an unlisted relative, by parent.</summary>
    public ReadOnlySpan<double> UnlistedLogLikelihood => _unlistedLogLikelihood;

    /// <summary>Log likelihood ratio against a parent drawn at random.</summary>
    public double LogRatio(int parent) => Settled(_logLikelihood[parent] - LogReference);

    /// <summary>A logarithm without the rounding that a difference of two equal ones leaves.</summary>
    /// <param name="log">The logarithm.</param>
    public static double Settled(double log) => Math.Abs(log) < Rounding ? 0 : log;

    /// <summary>The observation as it bears on one parent, in words and with sources.</summary>
    public Evidence Weigh(int parent)
    {
        var logRatio = LogRatio(parent);
        return new Evidence(
            Kind, Subject, logRatio, $"{Describe(parent)} {LikelihoodWords.Of(logRatio)}", SourcesOf(parent));
    }

    /// <summary>What was seen beside what was expected, one sentence.</summary>
    protected abstract string Describe(int parent);

    /// <summary>Keys of the sources the expectation rests on.</summary>
    protected virtual IReadOnlyList<string> SourcesOf(int parent) => [];
}
