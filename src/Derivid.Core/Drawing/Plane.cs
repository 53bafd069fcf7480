using System.Numerics;

namespace Derivid.Core.Drawing;

/// <summary>Geometry of the paper. Points are complex numbers, x to the right and y up. Units: bond lengths, radians.</summary>
internal static class Plane
{
    /// <summary>A step of one bond length.</summary>
    public static Complex Step(double angle) => Complex.FromPolarCoordinates(1, angle);

    /// <summary>The image of a point in the line through two others.</summary>
    public static Complex Mirrored(Complex point, Complex from, Complex to)
    {
        Complex along = (to - from) / (to - from).Magnitude;
        return from + (along * Complex.Conjugate((point - from) / along));
    }

    /// <summary>On which side of the line from one point to another a third lies: positive to the left.</summary>
    public static double Side(Complex from, Complex to, Complex point) =>
        (Complex.Conjugate(to - from) * (point - from)).Imaginary;

    /// <summary>Whether two lines cross within both; touching ends count as crossing.</summary>
    public static bool Cross(Complex from, Complex to, Complex otherFrom, Complex otherTo) =>
        Side(from, to, otherFrom) * Side(from, to, otherTo) <= 0
        && Side(otherFrom, otherTo, from) * Side(otherFrom, otherTo, to) <= 0;

    /// <summary>Distance of a point from the line between two others.</summary>
    public static double Distance(Complex point, Complex from, Complex to)
    {
        Complex along = to - from;
        double squared = (along * Complex.Conjugate(along)).Real;
        double share = squared > 0 ? ((point - from) * Complex.Conjugate(along)).Real / squared : 0;
        return (point - (from + (Math.Clamp(share, 0, 1) * along))).Magnitude;
    }

    /// <summary>Directions for some more lines from a point: evenly spread over the widest gap between those there.</summary>
    /// <param name="taken">Directions taken. Shape: at least one.</param>
    /// <param name="count">How many are wanted.</param>
    public static double[] Spread(IEnumerable<double> taken, int count)
    {
        double[] sorted = [.. taken.Select(angle => Wrapped(angle)).Order()];
        double start = 0;
        double widest = -1;
        for (int index = 0; index < sorted.Length; index++)
        {
            double next = index + 1 < sorted.Length ? sorted[index + 1] : sorted[0] + Math.Tau;
            if (next - sorted[index] > widest + 1e-6)
            {
                (start, widest) = (sorted[index], next - sorted[index]);
            }
        }

        return [.. Enumerable.Range(1, count).Select(step => start + (widest * step / (count + 1)))];
    }

    /// <summary>The smallest turn from one direction to another, whichever way round. Bounds: 0 to π.</summary>
    public static double Between(double one, double other)
    {
        double turn = Wrapped(one - other);
        return Math.Min(turn, Math.Tau - turn);
    }

    // Rounded first, so that a direction a hair below 0 isn't taken for one just below 2π.
    private static double Wrapped(double angle)
    {
        double wrapped = Math.Round(angle, 9) % Math.Tau;
        return wrapped < 0 ? wrapped + Math.Tau : wrapped;
    }
}
