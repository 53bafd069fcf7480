namespace Derivid.Core.Estimates;

/// <summary>A symmetric positive definite matrix, taken apart once (Cholesky) to solve equations with it.</summary>
/// <remarks>For the few dozen rows of the regressions here; nothing is done for speed. Thread safety: immutable.</remarks>
internal sealed class PositiveMatrix
{
    private readonly double[,] _root;
    private readonly int _size;

    /// <param name="matrix">The matrix; its lower half is read.</param>
    /// <exception cref="ArgumentException">It is not positive definite.</exception>
    public PositiveMatrix(double[,] matrix)
    {
        _size = matrix.GetLength(0);
        _root = new double[_size, _size];
        for (var row = 0; row < _size; row++)
        {
            for (var column = 0; column <= row; column++)
            {
                var rest = matrix[row, column];
                for (var k = 0; k < column; k++)
                {
                    rest -= _root[row, k] * _root[column, k];
                }

                _root[row, column] = row > column ? rest / _root[column, column]
                    : rest > 0 ? Math.Sqrt(rest)
                    : throw new ArgumentException("The matrix is not positive definite.", nameof(matrix));
            }
        }
    }

    /// <summary>Solves matrix · x = right.</summary>
    public double[] Solve(ReadOnlySpan<double> right)
    {
        var x = right.ToArray();
        for (var row = 0; row < _size; row++)
        {
            for (var k = 0; k < row; k++)
            {
                x[row] -= _root[row, k] * x[k];
            }

            x[row] /= _root[row, row];
        }

        for (var row = _size - 1; row >= 0; row--)
        {
            for (var k = row + 1; k < _size; k++)
            {
                x[row] -= _root[k, row] * x[k];
            }

            x[row] /= _root[row, row];
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
}
