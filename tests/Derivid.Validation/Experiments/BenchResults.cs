using Derivid.Validation.Metrics;

namespace Derivid.Validation.Experiments;

/// <summary>The scores of every method on every row and case.</summary>
public sealed class BenchResults
{
    private readonly CaseScore[,][] _scores;

    /// <summary>Makes room.</summary>
    public BenchResults(int rows, int cases)
    {
        _scores = new CaseScore[rows, Enum.GetValues<Method>().Length][];
        for (var row = 0; row < rows; row++)
        {
            foreach (var method in Enum.GetValues<Method>())
            {
                _scores[row, (int)method] = new CaseScore[cases];
            }
        }
    }

    /// <summary>The scores of a method on a row, by case.</summary>
    public IReadOnlyList<CaseScore> Of(int row, Method method) => _scores[row, (int)method];

    /// <summary>Enters a score.</summary>
    public void Set(int row, Method method, int number, CaseScore score) => _scores[row, (int)method][number] = score;
}
