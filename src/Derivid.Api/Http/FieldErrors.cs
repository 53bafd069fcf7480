using System.Globalization;

namespace Derivid.Api.Http;

/// <summary>Gathers what is wrong with a request, place by place, so that everything is told at once.</summary>
public sealed class FieldErrors
{
    private const int MostTold = 50;

    private readonly SortedDictionary<string, IReadOnlyList<string>> _byPlace = new(StringComparer.Ordinal);
    private ProblemType? _type;

    /// <summary>How many faults were found.</summary>
    public int Count { get; private set; }

    /// <summary>Notes a field of a wrong shape, an unknown name or a value out of bounds.</summary>
    /// <param name="place">A JSON Pointer, or "?" and the name of a query parameter.</param>
    /// <param name="message">Names the value and what is allowed.</param>
    public void Add(string place, string message) => Add(place, message, ProblemTypes.InvalidRequest);

    /// <summary>Notes a fault of some type.</summary>
    /// <param name="place">A JSON Pointer, or "?" and the name of a query parameter.</param>
    /// <param name="message">Names the value and what is allowed.</param>
    /// <param name="type">An invalid request outweighs what is well formed and yet impossible.</param>
    public void Add(string place, string message, ProblemType type)
    {
        Count++;
        _type = _type is null || type == ProblemTypes.InvalidRequest ? type : _type;
        if (_byPlace.TryGetValue(place, out var known))
        {
            _byPlace[place] = [.. known, message];
        }
        else if (_byPlace.Count < MostTold)
        {
            _byPlace[place] = [message];
        }
    }

    /// <summary>The faults as one problem.</summary>
    /// <returns>Missing: null when there are none.</returns>
    public Problem? ToProblem()
    {
        if (_type is null)
        {
            return null;
        }

        var first = _byPlace.First();
        var detail = Count == 1
            ? $"{(first.Key.Length == 0 ? "The body" : first.Key)}: {first.Value[0]}"
            : string.Create(
                CultureInfo.InvariantCulture,
                $"{Count} things to put right; see errors for each place, its value and what is allowed.");
        return new Problem(_type, detail) { Errors = _byPlace };
    }
}
