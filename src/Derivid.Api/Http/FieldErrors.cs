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

    /// <summary>The problem of one fault.</summary>
    /// <param name="place">A JSON Pointer, a header, or "?" and the name of a query parameter.</param>
    /// <param name="message">Names the value and what is allowed.</param>
    public static Problem One(string place, string message)
    {
        var errors = new FieldErrors();
        errors.Add(place, message);
        return errors.ToProblem()!;
    }

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

/// <summary>Places in a JSON document (RFC 6901).</summary>
public static class JsonPointer
{
    /// <summary>The place of a property.</summary>
    /// <param name="parent">The place of the object.</param>
    /// <param name="name">The property's name; a long one is shortened.</param>
    public static string Property(string parent, string name) =>
        parent + "/" + Text.Shortened(name)
            .Replace("~", "~0", StringComparison.Ordinal)
            .Replace("/", "~1", StringComparison.Ordinal);

    /// <summary>The place of an element of an array.</summary>
    /// <param name="parent">The place of the array.</param>
    /// <param name="index">From 0.</param>
    public static string Item(string parent, int index) =>
        parent + "/" + index.ToString(CultureInfo.InvariantCulture);
}

/// <summary>Where a value stands, as the steps to it: its pointer is written out only if a fault is to be told there.</summary>
internal sealed class Place
{
    private readonly Place? _around;
    private readonly string? _name;
    private readonly int _index;

    private Place(Place? around, string? name, int index)
    {
        _around = around;
        _name = name;
        _index = index;
    }

    /// <summary>A place to start from.</summary>
    /// <param name="pointer">A JSON Pointer, or "?" and the name of a query parameter.</param>
    public static Place At(string pointer) => new(null, pointer, 0);

    /// <summary>The place of a property.</summary>
    /// <param name="name">Its name.</param>
    public Place Property(string name) => new(this, name, 0);

    /// <summary>The place of an element of an array.</summary>
    /// <param name="index">From 0.</param>
    public Place Item(int index) => new(this, null, index);

    /// <inheritdoc/>
    public override string ToString() => _around is null ? _name!
        : _name is null ? JsonPointer.Item(_around.ToString(), _index)
        : JsonPointer.Property(_around.ToString(), _name);
}
