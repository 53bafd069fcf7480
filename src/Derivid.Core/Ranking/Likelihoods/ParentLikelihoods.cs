namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>One observation weighed against every parent of a snapshot.</summary>
internal abstract class ParentLikelihoods
{
    /// <summary>Larger than the rounding of a sum of logarithms, and smaller than anything that could matter.</summary>
    private const double Rounding = 1e-12;

    /// <summary>Takes the likelihoods.</summary>
    /// <param name="kind">What sort of observation it is.</param>
    /// <param name="subject">What it is about. Missing: null.</param>
    /// <param name="likelihood">Of each parent. Bounds: above 0.</param>
    /// <param name="relative">Of an unlisted relative of each. Missing: null, the same.</param>
    protected ParentLikelihoods(EvidenceKind kind, string? subject, ParentValues likelihood, ParentValues? relative = null)
    {
        Kind = kind;
        Subject = subject;
        Likelihood = likelihood;
        UnlistedLikelihood = relative ?? likelihood;
        LogReference = Math.Log(likelihood.Mean());
    }

    /// <summary>What sort of observation it is.</summary>
    public EvidenceKind Kind { get; }

    /// <summary>What it is about. Missing: null.</summary>
    public string? Subject { get; }

    /// <summary>Logarithm of the mean likelihood over the table: a parent drawn at random.</summary>
    public double LogReference { get; }

    /// <summary>Likelihood, by parent.</summary>
    public ParentValues Likelihood { get; }

    /// <summary>Likelihood of an unlisted relative, by parent.</summary>
    public ParentValues UnlistedLikelihood { get; }

    /// <summary>Logarithm of the likelihood.</summary>
    public double LogLikelihood(int parent) => Math.Log(Likelihood[parent]);

    /// <summary>Log likelihood ratio against a parent drawn at random.</summary>
    public double LogRatio(int parent) => Settled(LogLikelihood(parent) - LogReference);

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
