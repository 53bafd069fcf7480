namespace Derivid.Core.Estimates;

/// <summary>A symmetric positive definite matrix, taken apart once (Cholesky) to solve equations with it.</summary>
/// <remarks>
/// A fit solves with a few dozen rows some thousand times, and every start of the service and every check of a proposal fits: both
/// halves of the root are kept by rows, so that each sum runs along one. Thread safety: immutable.
/// </remarks>
internal sealed class PositiveMatrix
{
    private readonly double[][] _root;
    private readonly double[][] _transposed;

    /// <param name="matrix">The matrix; its lower half is read.</param>
    /// <exception cref="ArgumentException">It is not positive definite.</exception>
    public PositiveMatrix(double[,] matrix)
    {
        var size = matrix.GetLength(0);
        _root = new double[size][];
        _transposed = new double[size][];
        for (var row = 0; row < size; row++)
        {
            _transposed[row] = new double[size];
            var own = _root[row] = new double[row + 1];
            for (var column = 0; column <= row; column++)
            {
                var other = _root[column];
                var rest = Less(matrix[row, column], own.AsSpan(0, column), other);
                own[column] = row > column ? rest / other[column]
                    : rest > 0 ? Math.Sqrt(rest)
                    : throw new ArgumentException("The matrix is not positive definite.", nameof(matrix));
                _transposed[column][row] = own[column];
            }
        }
    }

    /// <summary>Solves matrix · x = right.</summary>
    public double[] Solve(ReadOnlySpan<double> right)
    {
        var x = right.ToArray();
        for (var row = 0; row < x.Length; row++)
        {
            x[row] = Less(x[row], _root[row].AsSpan(0, row), x) / _root[row][row];
        }

        for (var row = x.Length - 1; row >= 0; row--)
        {
            x[row] = Less(x[row], _transposed[row].AsSpan(row + 1), x.AsSpan(row + 1)) / _root[row][row];
        }

        return x;
    }

    /// <summary>vector · matrix⁻¹ · vector.</summary>
    public double InverseForm(ReadOnlySpan<double> vector) => Dot(vector, Solve(vector));

    /// <summary>Sum of the products.</summary>
    public static double Dot(ReadOnlySpan<double> left, ReadOnlySpan<double> right)
    {
        var sum = 0.0;
        for (var i = 0; i < left.Length; i++)
        {
            sum += left[i] * right[i];
        }

        return sum;
    }

    // The value less the products, one after the other, so that the last bit stays what it is.
    private static double Less(double value, ReadOnlySpan<double> left, ReadOnlySpan<double> right)
    {
        for (var i = 0; i < left.Length; i++)
        {
            value -= left[i] * right[i];
        }

        return value;
    }
}
