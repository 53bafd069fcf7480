namespace Derivid.Core.Estimates;

/// <summary>A linear regression with Student t errors, so that a few wrong values don't bend it.</summary>
/// <remarks>
/// Coefficients have a normal prior about 0, the errors a t with <see cref="TemperatureEstimate.DegreesOfFreedom"/>.
/// Fitted by expectation and maximisation, the t being a mixture of normals: K. L. Lange, R. J. A. Little and
/// J. M. G. Taylor, J. Am. Stat. Assoc. 1989, 84, 881 (recalled). A fixed number of rounds keeps it deterministic.
/// Thread safety: immutable.
/// </remarks>
internal sealed class StudentRegression
{
    private const int Rounds = 40;

    private readonly double[] _coefficients;
    private readonly PositiveMatrix _precision;
    private readonly double _scale;

    private StudentRegression(double[] coefficients, PositiveMatrix precision, double scale)
    {
        _coefficients = coefficients;
        _precision = precision;
        _scale = scale;
    }

    /// <summary>Fits it.</summary>
    /// <param name="predictors">Shape: one row an observation, all of one length.</param>
    /// <param name="values">What was observed, in the order of the rows.</param>
    /// <param name="coefficients">Number of predictors in a row.</param>
    /// <param name="priorSpread">Standard deviation of the coefficients' prior.</param>
    /// <param name="priorScale">Scale of the errors before anything is observed, worth as much as ten observations.</param>
    public static StudentRegression Fit(
        IReadOnlyList<double[]> predictors, IReadOnlyList<double> values, int coefficients, double priorSpread, double priorScale)
    {
        const double priorWeight = 10;
        var (fitted, scale) = (new double[coefficients], priorScale);
        PositiveMatrix precision = null!;
        for (var round = 0; round < Rounds; round++)
        {
            var matrix = new double[coefficients, coefficients];
            var right = new double[coefficients];
            for (var k = 0; k < coefficients; k++)
            {
                matrix[k, k] = 1 / (priorSpread * priorSpread);
            }

            for (var i = 0; i < values.Count; i++)
            {
                var weight = Weight(values[i] - PositiveMatrix.Dot(predictors[i], fitted), scale) / (scale * scale);
                for (var k = 0; k < coefficients; k++)
                {
                    right[k] += weight * predictors[i][k] * values[i];
                    for (var l = 0; l <= k; l++)
                    {
                        matrix[k, l] += weight * predictors[i][k] * predictors[i][l];
                    }
                }
            }

            precision = new PositiveMatrix(matrix);
            fitted = precision.Solve(right);
            var squares = priorWeight * priorScale * priorScale;
            for (var i = 0; i < values.Count; i++)
            {
                var residual = values[i] - PositiveMatrix.Dot(predictors[i], fitted);
                squares += Weight(residual, scale) * residual * residual;
            }

            scale = Math.Sqrt(squares / (priorWeight + values.Count));
        }

        return new StudentRegression(fitted, precision, scale);
    }

    /// <summary>What a new observation is expected to be: error and doubt about the coefficients together.</summary>
    /// <param name="predictors">Shape: as in the fit.</param>
    public TemperatureEstimate Predict(ReadOnlySpan<double> predictors) => new(
        PositiveMatrix.Dot(predictors, _coefficients),
        Math.Sqrt((_scale * _scale) + _precision.InverseForm(predictors)));

    private static double Weight(double residual, double scale) => (TemperatureEstimate.DegreesOfFreedom + 1)
        / (TemperatureEstimate.DegreesOfFreedom + (residual * residual / (scale * scale)));
}
