using System.Buffers;
using System.Numerics.Tensors;

namespace Derivid.Core.Ranking.Forecasts;

/// <summary>Entropy of what a step may show. Units: nats.</summary>
internal static class Entropy
{
    // Taken for nothing, so that its logarithm times nothing is nothing.
    private const double Least = 1e-300;

    /// <summary>Of one of several outcomes.</summary>
    /// <param name="probabilities">Shape: one an outcome; they sum to 1.</param>
    public static double Of(ReadOnlySpan<double> probabilities)
    {
        Span<double> logarithms = stackalloc double[probabilities.Length];
        Logarithms(probabilities, logarithms);
        return -TensorPrimitives.Dot(probabilities, logarithms);
    }

    /// <summary>Of an answer of yes or no.</summary>
    /// <param name="yes">Probability of yes.</param>
    public static double OfAnswer(double yes) =>
        yes is <= 0 or >= 1 ? 0 : -(yes * Math.Log(yes)) - ((1 - yes) * Math.Log(1 - yes));

    /// <summary>Of many answers of yes or no, each by itself.</summary>
    /// <param name="yes">Probabilities of yes.</param>
    /// <returns>Shape: as many.</returns>
    public static double[] OfAnswers(ReadOnlySpan<double> yes)
    {
        var entropies = new double[yes.Length];
        var lent = ArrayPool<double>.Shared.Rent(2 * yes.Length);
        var no = lent.AsSpan(0, yes.Length);
        var term = lent.AsSpan(yes.Length, yes.Length);
        TensorPrimitives.Subtract(1, yes, no);
        Logarithms(yes, entropies);
        TensorPrimitives.Multiply(entropies, yes, entropies);
        Logarithms(no, term);
        TensorPrimitives.MultiplyAdd(term, no, entropies, entropies);
        TensorPrimitives.Negate(entropies, entropies);
        ArrayPool<double>.Shared.Return(lent);
        return entropies;
    }

    private static void Logarithms(ReadOnlySpan<double> probabilities, Span<double> logarithms)
    {
        TensorPrimitives.Max(probabilities, Least, logarithms);
        TensorPrimitives.Log(logarithms, logarithms);
    }
}
