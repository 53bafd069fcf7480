using System.Text;
using System.Text.Json.Nodes;

namespace Derivid.Hostile.Fuzzing;

/// <summary>Makes requests: a well-formed one of an operation of the document, with nothing to three things wrong with it.</summary>
/// <remarks>
/// The same seed and number make the same request, whatever was made before. Not made, since they end before the service has
/// a say: addresses of over 8 KB, headers of over 32 KB, line breaks and NUL in headers, <c>%00</c> in paths.
/// </remarks>
internal sealed class Attacker
{
    private const string Tag = "@@tag@@";
    // Each may become nine; several stand in an address.
    private const int LongestInAddress = 100;
    private const string Hole = "@hole@";

    // What the examples of the document hold in place of an id, by the property it stands in.
    private static readonly Dictionary<string, string> IdsByProperty = new()
    {
        ["assignment"] = Prey.Mark("code"), ["grading"] = Prey.Mark("grading"), ["reports"] = Prey.Mark("report"), ["actor"] = Prey.Mark("actor"),
    };

    private static readonly string[] MediaTypes =
    [
        "application/json", "application/json; charset=utf-16", "text/csv", "text/csv; charset=\"x\"", "text/plain", "application/xml", "multipart/form-data",
        "application/x-www-form-urlencoded", "application/problem+json", "*/*", "application/", ";", "", "a/b; c=\"", "application/json; charset=\u00e9",
    ];

    private static readonly (string Name, string[] Values)[] OddHeaders =
    [
        ("Accept", ["*/*", "text/csv", "application/x-ndjson", "image/png", "text/html", "a", ";q=2", "application/json;q=0", "text/csv;q=\"\""]),
        ("Accept-Encoding", ["gzip", "br", "identity;q=0", "x"]),
        ("Content-Encoding", ["gzip", "br", "identity", "x"]),
        ("If-None-Match", ["*", "\"1\"", "W/\"1\"", "x", "\"", ",", "\"a\", \"b\""]),
        ("If-Match", ["*", "\"1\"", "W/\"1\"", "x", "\"", "\"99999999999\"", "\"-1\"", "\"1\", \"2\""]),
        ("If-Modified-Since", ["yesterday", "Sat, 01 Jan 0000 00:00:00 GMT"]),
        ("Range", ["bytes=0-1", "bytes=-1", "bytes=9999999999999999999-", "x"]),
        ("Authorization", ["Bearer", "Basic YTpi", "Bearer a b", "Bearer \u00e9", "dvd_0"]),
        ("Cookie", ["a", "=", "derivid-session=x", "; ;"]),
        ("Idempotency-Key", ["", "\"\"", "a", "\u00e9", "\t"]),
        ("Derivid-Reason", ["", "\u00fc", "=1+1", "\t"]),
        ("Origin", ["null", "http://127.0.0.1"]),
        ("X-Forwarded-For", ["1.2.3.4", "::", "x"]),
        ("X-HTTP-Method-Override", ["DELETE"]),
        ("traceparent", ["00-0-0-0", "x", "00-0af7651916cd43dd8448eb211c80319c-b7ad6b7169203331-01"]),
        ("Expect", ["100-continue"]),
        ("Accept-Language", ["x-y-z", "*"]),
    ];

    private static readonly string[] Methods = ["GET", "POST", "PUT", "DELETE", "PATCH", "HEAD", "OPTIONS", "TRACE", "QUERY", "get", "X"];

    private readonly Nasty _nasty;
    private readonly int _number;
    private readonly List<string[]> _headers = [];
    private readonly Operation _operation;
    private string[] _segments = [];
    private readonly List<(string Name, string Value)> _query = [];
    private string? _rawQuery;
    private string? _tagOf;
    private byte[]? _body;

    private Attacker(int seed, int number, Operation? operation)
    {
        _number = number;
        _nasty = new Nasty(new Random(unchecked((seed * 1_000_003) + number)));
        _operation = operation ?? _nasty.Pick(Operation.All);
    }

    /// <summary>Makes a request.</summary>
    /// <param name="seed">Which sequence.</param>
    /// <param name="number">Which one of it.</param>
    public static Attack Make(int seed, int number)
    {
        var attacker = new Attacker(seed, number, null);
        attacker.Begin();
        for (var faults = attacker._nasty.Pick<int>([0, 1, 1, 1, 1, 2, 2, 3]); faults > 0; faults--)
        {
            attacker.Spoil();
        }

        return attacker.Made();
    }

    /// <summary>Every JSON body of the document, each value in it replaced by wrong ones, or taken away.</summary>
    /// <param name="most">How many of the wrong values each is replaced by; where it isn't all, they take turns.</param>
    public static IEnumerable<Attack> Replacing(int most)
    {
        var turn = 0;
        foreach (var operation in Operation.All)
        {
            foreach (var (_, example) in operation.Bodies.Where(body => body.MediaType == MediaTypes[0]))
            {
                var body = WithIds(example);
                for (var place = Places(body).Count() - 1; place >= 0; place--)
                {
                    foreach (var wrong in Enumerable.Range(0, Math.Min(most, Nasty.Values.Count)).Select(_ => Nasty.Values[turn++ % Nasty.Values.Count]).Append(null))
                    {
                        var attacker = new Attacker(0, turn, operation);
                        attacker.Begin();
                        attacker._headers.RemoveAll(header => header[0] == "Content-Type");
                        attacker._headers.Add(["Content-Type", MediaTypes[0]]);
                        attacker._body = Encoding.UTF8.GetBytes(Replaced(body.DeepClone(), place, wrong));
                        yield return attacker.Made() with { By = attacker.Likely(), Method = operation.Method };
                    }
                }
            }
        }
    }

    // Null: it is taken away.
    private static string Replaced(JsonNode tree, int place, string? by)
    {
        var node = Places(tree).ElementAt(place);
        switch (by, node.Parent)
        {
            case (null, JsonObject parent):
                parent.Remove(node.GetPropertyName());
                return tree.ToJsonString();
            case (null, JsonArray parent):
                parent.Remove(node);
                return tree.ToJsonString();
            default:
                node.ReplaceWith(Hole);
                return tree.ToJsonString().Replace($"\"{Hole}\"", by, StringComparison.Ordinal);
        }
    }

    private Attack Made()
    {
        var query = _rawQuery ?? string.Join('&', _query.Select(pair => $"{Escaped(pair.Name)}={Escaped(pair.Value)}"));
        var attack = new Attack
        {
            Operation = _operation.Name,
            By = _nasty.OnceIn(2) ? _nasty.Pick(Who.All) : Likely(),
            Method = _nasty.OnceIn(60) ? _nasty.Pick(Methods) : _operation.Method,
            Address = string.Join('/', _segments) + (query.Length > 0 ? "?" + query : ""),
            TagOf = _tagOf,
            Headers = _headers.Count > 0 ? _headers : null,
        };
        return _body is null ? attack : attack.WithBody(_body);
    }

    // Somebody who may, so that what lies behind the door is attacked too.
    private string Likely() => _operation.Path switch
    {
        var path when path.EndsWith("/review", StringComparison.Ordinal) || path.EndsWith("/release", StringComparison.Ordinal) => Who.Reviewer,
        var path when path.Contains("/reports", StringComparison.Ordinal) && _operation.Method != "GET" => _nasty.Pick([Who.Ann, Who.Ben]),
        var path when path.Contains("/keys", StringComparison.Ordinal) || path.Contains("/audit", StringComparison.Ordinal) => Who.Administrator,
        _ => Who.Instructor,
    };

    private void Begin()
    {
        _segments = [.. _operation.Path.Split('/').Select(Filled)];
        foreach (var parameter in _operation.Parameters)
        {
            if (parameter.In == "query" && (_nasty.OnceIn(3) || parameter.Name == "table" || parameter.Name == "smiles"))
            {
                _query.Add((parameter.Name, parameter.Name == "cursor" ? Prey.Mark("cursor") : parameter.Example ?? "1"));
            }
            else if (parameter is { In: "header", Name: "If-Match" })
            {
                _headers.Add([parameter.Name, Tag]);
                _tagOf = TagOf();
            }
            else if (parameter.In == "header" && _nasty.OnceIn(3))
            {
                _headers.Add([parameter.Name, parameter.Name == "Idempotency-Key" && _nasty.OnceIn(2) ? "sent again" : $"request {_number}"]);
            }
        }

        if (_operation.Bodies.Count > 0)
        {
            var (mediaType, example) = _nasty.Pick(_operation.Bodies);
            _headers.Add(["Content-Type", mediaType]);
            _body = Encoding.UTF8.GetBytes(mediaType == "application/json" ? WithIds(example).ToJsonString() : (string)example!);
        }
    }

    private string Filled(string segment)
    {
        var path = _operation.Path;
        return segment switch
        {
            "{id}" when path.Contains("/courses/", StringComparison.Ordinal) => Prey.Mark("course"),
            "{id}" when path.EndsWith("/review", StringComparison.Ordinal) || path.EndsWith("/release", StringComparison.Ordinal) => Prey.Mark("reviewed"),
            "{id}" when path.Contains("/proposals/", StringComparison.Ordinal) => Prey.Mark("proposal"),
            "{id}" when path.Contains("/imports/", StringComparison.Ordinal) => Prey.Mark("import"),
            "{id}" when path.Contains("/keys/", StringComparison.Ordinal) => Prey.Mark("key"),
            "{id}" => Prey.Mark("identification"),
            "{reportId}" => Prey.Mark(_operation.Name == "changeReport" ? "draft" : "report"),
            "{gradingId}" => Prey.Mark("grading"),
            "{otherId}" => Prey.Mark("later"),
            "{number}" or "{other}" => "1",
            _ when segment.Contains("{table}", StringComparison.Ordinal) => segment.Replace("{table}", "colours", StringComparison.Ordinal),
            "{key}" when path.Contains("/parents/", StringComparison.Ordinal) => "propanone",
            "{key}" when path.Contains("/sources/", StringComparison.Ordinal) => "handbooks-recalled",
            "{key}" => "white",
            _ => segment,
        };
    }

    // The thing of which the document's If-Match is a revision.
    private string TagOf()
    {
        var upTo = _operation.Path.Contains("{reportId}", StringComparison.Ordinal) ? 7 : 5;
        return string.Join('/', _operation.Path.Split('/').Take(upTo).Select(Filled));
    }

    private static JsonNode WithIds(JsonNode example)
    {
        var copy = example.DeepClone();
        foreach (var node in Places(copy).ToList())
        {
            if (node is JsonValue && node.Parent is JsonObject && IdsByProperty.TryGetValue(node.GetPropertyName(), out var id))
            {
                node.ReplaceWith(id);
            }
            else if (node is JsonArray { Count: > 0 } list && node.Parent is JsonObject && node.GetPropertyName() == "reports")
            {
                list[0] = Prey.Mark("report");
            }
        }

        return copy;
    }

    private void Spoil()
    {
        switch (_nasty.Below(_body is null ? 6 : 12))
        {
            case 0:
                // Behind /api/v1, whose first segment is empty.
                var at = _nasty.Below(_segments.Length - 1) + 1;
                _segments[at] = Escaped(_nasty.Pick([_nasty.Text(), _nasty.SpoiltText(_segments[at]), Prey.Mark(_nasty.Pick(Prey.Names))])).Replace("%00", "%01", StringComparison.Ordinal);
                break;
            case 1 when _query.Count > 0:
                var place = _nasty.Below(_query.Count);
                _query[place] = (_query[place].Name, _nasty.Text());
                break;
            case 1 or 2:
                _query.Add(_nasty.Pick<(string, string)>(
                [
                    (_nasty.Text(), _nasty.Text()), .. _query, .. _operation.Parameters.Where(p => p.In == "query").Select(p => (p.Name, _nasty.Text())),
                    ("cursor", _nasty.Text()), ("limit", _nasty.Pick(["0", "-1", "501", "1e2", ""])),
                ]));
                break;
            case 3 when _nasty.OnceIn(4):
                _rawQuery = _nasty.Pick(["%", "%zz", "a=%ff", "&&&", "=", "a", "?", "limit=5&limit=6", "limit[]=1", "a=%u0041", "+", "limit=%2", "table=%c0%80"]);
                break;
            case 3 or 4 or 5:
                var (name, values) = _nasty.Pick(OddHeaders);
                _headers.Add([name, _nasty.OnceIn(4) ? InHeader(_nasty.Text()) : _nasty.Pick(values)]);
                break;
            case 6:
                _body = _nasty.Spoilt(_body!);
                break;
            case 7 when _nasty.OnceIn(3):
                _headers.RemoveAll(header => header[0] == "Content-Type");
                _headers.Add(["Content-Type", _nasty.Pick(MediaTypes)]);
                break;
            case 7 when _nasty.OnceIn(3):
                _body = Encoding.UTF8.GetBytes(_nasty.OnceIn(2) ? _nasty.Value() : _nasty.Text());
                break;
            default:
                SpoilTree();
                break;
        }
    }

    private void SpoilTree()
    {
        try
        {
            _body = Encoding.UTF8.GetBytes(SpoiltTree(JsonNode.Parse(_body)!));
        }
        catch (Exception fault) when (fault is System.Text.Json.JsonException or ArgumentException or InvalidOperationException or NullReferenceException)
        {
            // Spoilt already, or CSV.
            _body = Encoding.UTF8.GetBytes(_nasty.SpoiltText(Encoding.UTF8.GetString(_body!)));
        }
    }

    private string SpoiltTree(JsonNode tree)
    {
        var places = Places(tree).ToList();
        var place = places.Count == 0 ? tree : _nasty.Pick(places);
        switch (_nasty.Below(8))
        {
            case 0 when place.Parent is JsonObject parent:
                parent.Remove(place.GetPropertyName());
                break;
            case 1 when place is JsonObject record:
                record[_nasty.Pick(["", "x", "$type", "__proto__", "kind ", "id", new string('n', 500)])] = 1;
                break;
            case 2 when place is JsonArray { Count: > 0 } list:
                for (var copies = _nasty.Pick([1, 20, 400]); copies > 0; copies--)
                {
                    list.Add(list[0]!.DeepClone());
                }

                break;
            case var _ when place.Parent is not null:
                place.ReplaceWith(Hole);
                break;
        }

        return tree.ToJsonString().Replace($"\"{Hole}\"", _nasty.Value(), StringComparison.Ordinal);
    }

    private static IEnumerable<JsonNode> Places(JsonNode node)
    {
        var children = node switch
        {
            JsonObject many => many.Select(member => member.Value),
            JsonArray list => list,
            _ => [],
        };
        foreach (var child in children.OfType<JsonNode>())
        {
            yield return child;
            foreach (var inner in Places(child))
            {
                yield return inner;
            }
        }
    }

    // Names of the prey stay as they are.
    private static string Escaped(string text) =>
        Uri.EscapeDataString(text[..Math.Min(text.Length, LongestInAddress)]).Replace("%40%40", "@@", StringComparison.Ordinal);

    private static string InHeader(string text) =>
        string.Concat(text.Where(letter => !char.IsControl(letter) && !char.IsSurrogate(letter)).Take(4000));
}
