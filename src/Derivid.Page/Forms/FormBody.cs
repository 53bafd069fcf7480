using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Core;

namespace Derivid.Page.Forms;

/// <summary>The JSON of a request, put together from the fields of a form by the places in their names.</summary>
/// <remarks>
/// A name is a JSON Pointer and, after a colon, what the field holds: <c>number</c> (with a decimal comma too), <c>lines</c> (a
/// list, one a line), <c>numbers</c> (the same of numbers), <c>weights</c> (names with a number each, "name = 3" a line), <c>list</c> (all that were ticked), <c>flag</c> (true or false); else text. What can't be read as a number
/// stays text, for the service to refuse by name. Digits in a pointer number the rows of a list; rows left empty are left out,
/// and the others move up.
/// </remarks>
internal sealed class FormBody
{
    private readonly SortedDictionary<string, FormBody> _members = new(Segments.Instance);
    private JsonNode? _value;
    private string? _field;

    /// <summary>Reads a form.</summary>
    /// <param name="form">The form.</param>
    /// <param name="bare">Names of members that alone make no row.</param>
    /// <param name="fieldsByPlace">Takes which field stands at which place of the JSON.</param>
    public static FormBody Of(PostedForm form, IReadOnlyCollection<string> bare, Dictionary<string, string> fieldsByPlace)
    {
        var body = new FormBody();
        foreach (var name in form.Names.Where(name => name.StartsWith('/') && !Segments.IsRow(name.Split('/', ':')[1])))
        {
            var colon = name.IndexOf(':', StringComparison.Ordinal);
            var (pointer, kind) = colon < 0 ? (name, "") : (name[..colon], name[(colon + 1)..]);
            // What is refused already counts as left empty, so that the service can say what else is wrong.
            body.Put(pointer.Split('/').AsSpan(1), name, form.FaultsOf(name).Any() ? null : Value(kind, form.Meant(name)));
        }

        fieldsByPlace.Clear();
        body.Settle("", bare, fieldsByPlace);
        return body;
    }

    public ReadOnlyMemory<byte> ToUtf8() => JsonSerializer.SerializeToUtf8Bytes(ToNode() ?? new JsonObject(), Contracts.WireJson.Options);

    private static JsonNode? Value(string kind, IReadOnlyList<string> sent)
    {
        string[] filled = [.. sent.Select(text => text.Trim()).Where(text => text.Length > 0)];
        return (kind, filled) switch
        {
            (_, []) => null,
            ("list", _) => new JsonArray([.. filled.Select(text => (JsonNode)text)]),
            ("lines", [var text, ..]) => new JsonArray([.. Lines(text).Select(line => (JsonNode)line)]),
            ("numbers", [var text, ..]) => new JsonArray([.. Lines(text).Select(line => Figure.Read(line) is { } number ? (JsonNode)number : line)]),
            ("weights", [var text, ..]) => Weights(Lines(text)),
            ("number", [var text, ..]) => Figure.Read(text) is { } number ? number : text,
            ("flag", [var text, ..]) => text is "true" or "on",
            (_, [var text, ..]) => text,
        };
    }

    // A line without a number holds itself, for the service to refuse by name.
    private static JsonObject Weights(IEnumerable<string> lines)
    {
        var weights = new JsonObject();
        foreach (var line in lines)
        {
            var parts = line.Split(['=', '\t'], 2, StringSplitOptions.TrimEntries);
            weights[parts[0]] = parts.Length == 2 && Figure.Read(parts[1]) is { } number ? number : line;
        }

        return weights;
    }

    private static string[] Lines(string text) =>
        text.Split(['\r', '\n'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

    private void Put(ReadOnlySpan<string> path, string field, JsonNode? value)
    {
        if (path.IsEmpty)
        {
            (_field, _value) = (field, value);
            return;
        }

        if (!_members.TryGetValue(path[0], out var member))
        {
            _members[path[0]] = member = new FormBody();
        }

        member.Put(path[1..], field, value);
    }

    // Leaves out what is empty and notes where the fields came to stand. A field left empty keeps its place too, so that a
    // problem about what is missing finds it.
    private bool Settle(string place, IReadOnlyCollection<string> bare, Dictionary<string, string> fieldsByPlace)
    {
        if (_field is not null)
        {
            fieldsByPlace[place] = _field;
        }

        if (_members.Count == 0)
        {
            return _value is not null;
        }

        var row = 0;
        foreach (var (name, member) in _members.ToList())
        {
            var isRow = Segments.IsRow(name);
            if (isRow && !member.SaysMoreThan(bare))
            {
                _members.Remove(name);
                continue;
            }

            if (!member.Settle($"{place}/{(isRow ? row++.ToString(CultureInfo.InvariantCulture) : name)}", bare, fieldsByPlace))
            {
                _members.Remove(name);
            }
        }

        return _members.Count > 0;
    }

    private bool SaysMoreThan(IReadOnlyCollection<string> bare) =>
        _value is not null || _members.Any(member => !bare.Contains(member.Key) && member.Value.SaysMoreThan([]));

    private JsonNode? ToNode()
    {
        if (_members.Count == 0)
        {
            return _value;
        }

        return Segments.IsRow(_members.Keys.First())
            ? new JsonArray([.. _members.Values.Select(member => member.ToNode())])
            : new JsonObject(_members.Select(member => KeyValuePair.Create(member.Key, member.Value.ToNode())));
    }

    // Rows by number, members by name.
    private sealed class Segments : IComparer<string>
    {
        public static Segments Instance { get; } = new();

        public static bool IsRow(string segment) => segment.Length is > 0 and < 5 && segment.All(char.IsAsciiDigit);

        public int Compare(string? x, string? y) => IsRow(x!) && IsRow(y!)
            ? int.Parse(x!, CultureInfo.InvariantCulture).CompareTo(int.Parse(y!, CultureInfo.InvariantCulture))
            : string.CompareOrdinal(x, y);
    }
}
