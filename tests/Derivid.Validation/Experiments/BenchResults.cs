using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Experiments;

/// <summary>The scores of every method on every row and case of one bench.</summary>
/// <remarks>
/// The engine and the rules do not know how many unknowns are absent; the ideal observers do, so they answer anew for each
/// share.
/// </remarks>
public sealed class BenchResults
{
    private readonly int _cases;
    private readonly Dictionary<(int Row, Method Method, int Share), CaseScore[]> _scores = [];

    /// <summary>Makes room.</summary>
    public BenchResults(int rows, int cases)
    {
        _cases = cases;
        for (var row = 0; row < rows; row++)
        {
            foreach (var method in Enum.GetValues<Method>())
            {
                for (var share = 0; share < (IsIdeal(method) ? BenchParameters.AbsentShares.Count : 1); share++)
                {
                    _scores[(row, method, share)] = new CaseScore[cases];
                }
            }
        }
    }

    /// <summary>The scores of a method on a row, by case, all absent ones included.</summary>
    /// <param name="row">The row.</param>
    /// <param name="method">Who ranks.</param>
    /// <param name="share">Place of the share of absent unknowns that an ideal observer reckons with.</param>
    public IReadOnlyList<CaseScore> Of(int row, Method method, int share) =>
        _scores[(row, method, IsIdeal(method) ? share : 0)];

    /// <summary>The numbers of the cases that give a share of absent unknowns: all present ones and the first absent ones.</summary>
    public IReadOnlyList<int> Cases(int share)
    {
        var scores = Of(0, Method.Engine, share);
        var absent = Enumerable.Range(0, _cases).Where(number => scores[number].IsAbsent).ToList();
        var wanted = BenchParameters.AbsentShares[share];
        var kept = absent.Take((int)Math.Round((_cases - absent.Count) * wanted / (1 - wanted))).ToHashSet();
        return [.. Enumerable.Range(0, _cases).Where(number => !scores[number].IsAbsent || kept.Contains(number))];
    }

    /// <summary>Enters a score.</summary>
    public void Set(int row, Method method, int number, CaseScore score, int share = 0) =>
        _scores[(row, method, share)][number] = score;

    private static bool IsIdeal(Method method) => method is Method.Ideal or Method.IdealUntold or Method.IdealBlind;
}
