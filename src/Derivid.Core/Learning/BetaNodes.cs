namespace Derivid.Core.Learning;

/// <summary>Places from 0 to 1 to integrate over, closer at both ends, where rates are mostly found.</summary>
/// <remarks>Midpoints in φ, where the rate is sin²φ, which takes the poles out of a Beta density of parameters from ½ up.</remarks>
internal sealed class BetaNodes
{
    private BetaNodes(int count)
    {
        Rates = new double[count];
        _logYes = new double[count];
        _logNo = new double[count];
        for (var i = 0; i < count; i++)
        {
            var (sine, cosine) = Math.SinCos((i + 0.5) / count * (Math.PI / 2));
            Rates[i] = sine * sine;
            (_logYes[i], _logNo[i]) = (2 * Math.Log(sine), 2 * Math.Log(cosine));
        }
    }

    private readonly double[] _logYes;
    private readonly double[] _logNo;

    /// <summary>Enough for a sum over many classes.</summary>
    public static BetaNodes Coarse { get; } = new(96);

    /// <summary>Enough for the ends of an interval of a mixture.</summary>
    public static BetaNodes Middle { get; } = new(256);

    /// <summary>Enough for the ends of an interval.</summary>
    public static BetaNodes Fine { get; } = new(1024);

    /// <summary>The places, rising.</summary>
    public double[] Rates { get; }

    /// <summary>Shares of a Beta distribution at the places, summing to 1.</summary>
    public double[] Density(double yes, double no)
    {
        var logs = new double[Rates.Length];
        for (var i = 0; i < logs.Length; i++)
        {
            // One half more each than the density has: the element of sin²φ is 2·sinφ·cosφ.
            logs[i] = ((yes - 0.5) * _logYes[i]) + ((no - 0.5) * _logNo[i]);
        }

        // A parameter near 0 heaps most of its share up before the first place, or after the last; what is there is φ's power integrated.
        logs[0] += Heap(yes);
        logs[^1] += Heap(no);
        return Shares(logs);
    }

    /// <summary>Logarithm of the integral of φ^(2a − 1) over the first stretch, over what its midpoint would give.</summary>
    private static double Heap(double a) => -Math.Log(2 * a) - ((1 - (2 * a)) * Math.Log(2));

    /// <summary>Turns logarithms into shares that sum to 1.</summary>
    public static double[] Shares(double[] logs)
    {
        var most = logs.Max();
        var shares = logs.Select(log => Math.Exp(log - most)).ToArray();
        var sum = shares.Sum();
        return [.. shares.Select(share => share / sum)];
    }

    /// <summary>Mean and interval of shares at the places.</summary>
    /// <remarks>A rate of the first stretch is not told from 0, nor one of the last from 1, so an interval that begins or ends there holds them.</remarks>
    public LearnedFigure Summarise(double[] shares)
    {
        var mean = Rates.Zip(shares, (rate, share) => rate * share).Sum();
        var (low, high) = (Quantile(shares, LearnedFigure.Tail), Quantile(shares, 1 - LearnedFigure.Tail));
        var sine = Math.Sin(Math.PI / 2 / shares.Length);
        var first = sine * sine;
        return new LearnedFigure(mean, low < first ? 0 : low, high > 1 - first ? 1 : high);
    }

    private static double Quantile(double[] shares, double at)
    {
        var (below, place) = (0.0, 0);
        while (place < shares.Length - 1 && below + shares[place] < at)
        {
            below += shares[place++];
        }

        // A node stands for the stretch of φ about it.
        var within = Math.Clamp((at - below) / shares[place], 0, 1);
        var sine = Math.Sin((place + within) / shares.Length * (Math.PI / 2));
        return sine * sine;
    }
}
