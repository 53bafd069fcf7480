using System.Globalization;
using System.Text;

namespace Derivid.Hostile.Fuzzing;

/// <summary>Makes request bodies that no reading makes valid, the same ones for the same seed.</summary>
internal sealed class HostileBodies(int seed)
{
    // No text in it holds a quotation mark, bracket, colon or comma, so that taking any one of them away breaks it.
    private const string Valid =
        """{"derivatives":[{"kind":"oxime","meltingRange":"59-61","preparation":"crude","colour":"yellow","time":"minutes"},{"kind":"semicarbazone","meltingRange":{"onsetCelsius":187,"clearPointCelsius":189,"decomposes":true}},{"kind":"dimethone","precipitate":"none"}],"spotTests":[{"test":"tollens","outcome":"negative"}],"state":"liquid","boilingPoint":{"range":"55-57","pressureKilopascals":101.3},"meltingPoint":"48","mixedMeltings":[{"kind":"phenylhydrazone","partner":"benzaldehyde","range":"70-75","authenticRange":"155-156"}],"molarMass":{"gramsPerMole":58,"uncertaintyGramsPerMole":2},"elements":{"present":["nitrogen"],"absent":["chlorine"]},"thermometer":{"standards":[{"standard":"benzil","readCelsius":94}],"stem":{"exposedCelsius":100,"stemCelsius":40}},"windowCelsius":5,"prior":{"shelfList":["propanone"],"noneOfThese":0.1},"tableVersion":1,"maximumCandidates":313}""";

    // A value in the valid body, and the kinds of value that do not fit there.
    private static readonly (string Value, string Fits)[] Fields =
    [
        ("""[{"kind":"oxime","meltingRange":"59-61","preparation":"crude","colour":"yellow","time":"minutes"},{"kind":"semicarbazone","meltingRange":{"onsetCelsius":187,"clearPointCelsius":189,"decomposes":true}},{"kind":"dimethone","precipitate":"none"}]""", "list"),
        ("\"oxime\"", "text"), ("\"59-61\"", "text object"), ("\"crude\"", "text"), ("\"yellow\"", "text"), ("\"minutes\"", "text"), ("\"none\"", "text"),
        ("""{"onsetCelsius":187,"clearPointCelsius":189,"decomposes":true}""", "text object"),
        ("187", "number"), ("189", "number"), (":true}", "truth"), ("""[{"test":"tollens","outcome":"negative"}]""", "list"),
        ("\"tollens\"", "text"), ("\"negative\"", "text"), ("""{"range":"55-57","pressureKilopascals":101.3}""", "object"),
        ("\"55-57\"", "text object"), ("101.3", "number"), ("\"48\"", "text object"),
        ("""[{"kind":"phenylhydrazone","partner":"benzaldehyde","range":"70-75","authenticRange":"155-156"}]""", "list"),
        ("\"phenylhydrazone\"", "text"), ("\"benzaldehyde\"", "text"), ("\"70-75\"", "text object"), ("\"155-156\"", "text object"),
        ("""{"gramsPerMole":58,"uncertaintyGramsPerMole":2}""", "object"), ("58", "number"),
        ("""{"present":["nitrogen"],"absent":["chlorine"]}""", "object"), ("""["nitrogen"]""", "list"),
        ("\"nitrogen\"", "text"), ("\"benzil\"", "text"), ("94", "number"), ("100", "number"), ("0.1", "number"),
        ("""["propanone"]""", "list"), ("\"propanone\"", "text"),
    ];

    private static readonly (string Kind, string Json)[] Values =
    [
        ("text", "\"5\""), ("text", "\"\""), ("number", "7"), ("number", "-1.5e3"), ("truth", "true"), ("truth", "false"),
        ("list", "[]"), ("list", "[[1]]"), ("list", "[\"a\",{}]"), ("object", "{}"), ("object", "{\"a\":1}"),
    ];

    private static readonly string[] Injections =
    [
        "'; DROP TABLE identifications; --", "1 OR 1=1", "\\u0027 UNION SELECT * FROM table_versions--", "=cmd|' /C calc'!A0",
        "@SUM(1+1)*cmd", "+1+1", "-2+3", "${jndi:ldap://127.0.0.1/a}", "../../../../etc/passwd", "<script>alert(1)</script>",
        "{{7*7}}", "%00", "\\u0000", "$(reboot)", "`id`", "\\r\\nSet-Cookie: a=b", "NaN", "Infinity", "null", "undefined",
    ];

    private static readonly string[] Junk =
    [
        "\\ud800", "\\udfff\\ud800", "\\u202eenoxime", "\\u0007", "\u00A0", "🧪🧪🧪", "ⅫⅫ", "Ω≈ç√∫", "ᚠᛇᚻ", "\\ufeff", "\\uffff",
        "a\u0301\u0301\u0301\u0301", "ﷺ", "١٢٥", "１２５－１２７ｘ", "\u2028", "\\u2029", "𝟙𝟚𝟝x", "化合物", "\\u0000\\u0001",
    ];

    private static readonly string[] Names =
        ["\"oxime\"", "\"yellow\"", "\"tollens\"", "\"benzil\"", "\"propanone\"", "\"59-61\"", "\"55-57\"", "\"48\"", "\"crude\"", "\"none\""];

    private readonly Random _random = new(seed);

    /// <summary>The valid body that most are made from.</summary>
    public static string ValidBody => Valid;

    /// <summary>The next body.</summary>
    public byte[] Next()
    {
        Func<byte[]>[] ways =
        [
            Truncated, Nested, Huge, WrongKind, NotUtf8, JunkName, Long, Injected, Repeated, RandomBytes, Broken, Unknown,
            OutOfBounds, Alone, ManyEntries,
        ];
        return Pick(ways)();
    }

    private static byte[] Utf8(string text) => Encoding.UTF8.GetBytes(text);

    private static string Replaced(string value, string by)
    {
        var at = Valid.IndexOf(value, StringComparison.Ordinal);
        return string.Concat(Valid.AsSpan(0, at), by, Valid.AsSpan(at + value.Length));
    }

    private T Pick<T>(IReadOnlyList<T> from) => from[_random.Next(from.Count)];

    private byte[] Truncated() => Utf8(Valid[.._random.Next(Valid.Length)]);

    private byte[] Nested()
    {
        var depth = _random.Next(17, 8000);
        return Utf8(_random.Next(3) switch
        {
            0 => new string('[', depth),
            1 => new string('[', depth) + new string(']', depth),
            _ => Replaced("\"48\"", string.Concat(Enumerable.Repeat("{\"a\":", depth)) + "1" + new string('}', depth)),
        });
    }

    private byte[] Huge()
    {
        var number = _random.Next(6) switch
        {
            0 => "1e999",
            1 => "-1e400",
            2 => new string('9', _random.Next(20, 5000)),
            3 => "0." + new string('0', 400) + "1e-400",
            4 => string.Create(CultureInfo.InvariantCulture, $"{_random.Next(1000, int.MaxValue)}{_random.Next()}"),
            _ => "-" + new string('1', 310),
        };
        return Utf8(Replaced(Pick(["187", "101.3", "58,", "100,", "0.1"]).TrimEnd(','), number == "0." + new string('0', 400) + "1e-400" ? "1e400" : number));
    }

    private byte[] WrongKind()
    {
        var (value, fits) = Pick(Fields);
        var wrong = Pick(Values.Where(v => !fits.Contains(v.Kind, StringComparison.Ordinal)).ToList()).Json;
        return Utf8(Replaced(value, value == ":true}" ? $":{wrong}}}" : wrong));
    }

    private byte[] NotUtf8()
    {
        byte[][] bad = [[0xFF], [0xC0, 0x80], [0xED, 0xA0, 0x80], [0xF8, 0x88, 0x80, 0x80, 0x80], [0xE2, 0x28, 0xA1], [0x80]];
        var valid = Utf8(Valid);
        var at = _random.Next(1, valid.Length);
        return [.. valid[..at], .. Pick(bad), .. valid[at..]];
    }

    private byte[] JunkName() => Utf8(Replaced(Pick(Names), $"\"{Pick(Junk)}{Pick(Junk)}\""));

    private byte[] Long() => Utf8(Replaced(Pick(Names), $"\"{new string(Pick("a5- °".ToCharArray()), _random.Next(101, 60_000))}\""));

    private byte[] Injected() => Utf8(Replaced(Pick(Names), $"\"{Pick(Injections)}\""));

    private byte[] Repeated()
    {
        var property = Pick(["\"kind\":\"oxime\",", "\"test\":\"tollens\",", "\"windowCelsius\":5,", "\"gramsPerMole\":58,", "\"onsetCelsius\":187,"]);
        return Utf8(Replaced(property, property + property));
    }

    private byte[] RandomBytes()
    {
        var bytes = new byte[_random.Next(1, 3000)];
        _random.NextBytes(bytes);
        // Neither white space nor the beginning of an object, so that it cannot come out valid.
        bytes[0] = Pick<byte>([0x00, 0x7F, 0xFF, 0x41, 0x5B, 0x22, 0x2D, 0x31]);
        return bytes;
    }

    private byte[] Broken()
    {
        var marks = Enumerable.Range(0, Valid.Length).Where(i => "{}[]\":,".Contains(Valid[i], StringComparison.Ordinal)).ToList();
        var at = Pick(marks);
        var instead = _random.Next(3) switch { 0 => "", 1 => "x", _ => "\u0001" };
        return Utf8(string.Concat(Valid.AsSpan(0, at), instead, Valid.AsSpan(at + 1)));
    }

    private byte[] Unknown()
    {
        var name = Pick(["Derivatives", "__proto__", "$ref", "", "a\\u0000", "\\ud800", "kind ", "constructor", new string('n', 500)]);
        var opening = Pick(["{\"derivatives\"", "{\"kind\":\"oxime\"", "{\"onsetCelsius\"", "{\"test\"", "{\"range\"", "{\"gramsPerMole\"", "{\"stem"]);
        return opening == "{\"stem"
            ? Utf8(Replaced("{\"exposedCelsius\"", $"{{\"{name}\":1,\"exposedCelsius\""))
            : Utf8(Replaced(opening, $"{{\"{name}\":1,{opening[1..]}"));
    }

    private byte[] OutOfBounds()
    {
        var (value, by) = Pick<(string, string)>(
        [
            ("\"59-61\"", "\"61-59\""), ("\"59-61\"", "\"900-901\""), ("\"55-57\"", "\"-300\""), ("187", "190"), ("189", "451"),
            ("101.3", "0.09"), ("101.3", "110.1"), ("58", "19"), (":2}", ":0}"), ("94", "20"), ("\"absent\":[\"chlorine\"]", "\"absent\":[\"nitrogen\"]"),
            ("100", "400.5"), (":40}", ":201}"), (":5,", ":51,"), (":5,", ":0,"), ("0.1", "0.991"), ("0.1", "-0.001"),
            (":1,\"max", ":0,\"max"), (":1,\"max", ":2,\"max"), (":313}", ":0}"), (":313}", ":501}"), (":313}", ":3.5}"),
            ("\"shelfList\"", "\"weights\":{\"propanone\":1},\"shelfList\""), ("[\"propanone\"]", "[]"),
        ]);
        return Utf8(Replaced(value, by));
    }

    private byte[] Alone() => Utf8(Pick(["", " ", "null", "true", "0", "-", "\"\"", "[]", "[{}]", "{", "}", "{]", "[}", ",", "nul", "{}{}", "\u00A0{}", "{\"\":1}", "<a/>", "a=1&b=2", "\0"]));

    private byte[] ManyEntries() => Utf8(_random.Next(3) switch
    {
        0 => Replaced("""{"test":"tollens","outcome":"negative"}""", string.Join(',', Enumerable.Repeat("""{"test":"tollens","outcome":"negative"}""", 41))),
        1 => Replaced("[\"nitrogen\"]", "[" + string.Join(',', Enumerable.Repeat("\"nitrogen\"", 7)) + "]"),
        _ => Replaced("[\"propanone\"]", "[" + string.Join(',', Enumerable.Repeat("\"propanone\"", _random.Next(1001, 4000))) + "]"),
    });
}
