using System.Globalization;
using System.Text;

namespace Derivid.Hostile;

/// <summary>Values and spoilings that programs stumble over, the same ones for the same random numbers.</summary>
/// <param name="random">The numbers.</param>
internal sealed class Nasty(Random random)
{
    private static readonly string[] Texts =
    [
        "", " ", "0", "-1", "1e400", "NaN", "Infinity", "null", "undefined", "true", "\0", "\u0007", "\r\nSet-Cookie: a=b", "\u2028", "\uFEFF",
        "'; DROP TABLE identifications; --", "1 OR 1=1", "' UNION SELECT * FROM table_versions--", "%' ESCAPE '", "_", "%", "\\", "\"", "'",
        "=cmd|' /C calc'!A0", "@SUM(1+1)*cmd", "+1+1", "-2+3", "${jndi:ldap://127.0.0.1/a}", "../../../../etc/passwd", "..\\..\\x", "/", "//", "?", "#",
        "<script>alert(1)</script>", "]]>", "<!--", "&amp;", "{{7*7}}", "%00", "%zz", "$(reboot)", "`id`", "a;b", "a,b", "a\tb", "a\nb",
        "\uFFFD", "\uFFFF", "enoxime\u202E", "a\u0301\u0301\u0301\u0301", "ﷺ", "١٢٥", "１２５－１２７", "𝟙𝟚𝟝", "化合物", "🧪🧪🧪", "İ", "ß", "ſ",
        "0000000000000000", "01970f1e2d3c70008b5a69780f1e2d3c", "9NB4-JRTT", "key:0000000000000000", "9999999999", "2147483648", "-2147483649",
        "9223372036854775808", "0x10", "1_000", "1,5", "1.5.2", "+5", "5e-324", "1e308", "2026-02-30T00:00:00Z", "0001-01-01T00:00:00Z",
        "9999-12-31T23:59:59.9999999Z", "propanone", "2,4-DNPH", "semicarbazone", "acetone", "tollens", "ann", "derivatives", "colours",
    ];

    private static readonly byte[][] NotUtf8 =
        [[0xFF], [0xC0, 0x80], [0xED, 0xA0, 0x80], [0xF8, 0x88, 0x80, 0x80, 0x80], [0xE2, 0x28, 0xA1], [0x80], [0xEF, 0xBB, 0xBF], [0x00], [0x1F, 0x8B], [0xFE, 0xFF]];

    private static readonly string[] Sources = ["C", "c1ccccc1", "[NH4+]", "%99", "(", "=O", "125-127", "°C", ",", "\"", "\n", ";", "{", "["];

    /// <summary>JSON values, and what only looks like one.</summary>
    public static IReadOnlyList<string> Values { get; } =
    [
        "null", "true", "false", "0", "-0", "-1", "1.5", "1e400", "-1e400", "5e-324", "999999999999999999999", "2147483648", "1e-400", "\"\"", "\" \"",
        "\"\\u0000\"", "\"\\ud800\"", "\"\\udfff\\ud800\"", "\"é\\u202e=1+1\"", "\"x\"", "[]", "[null]", "[[]]", "[[1]]", "[{}]", "{}", "{\"\":1}", "{\"points\":-1}",
        "{\"$ref\":\"#\"}", "{\"__proto__\":{}}", "NaN", "'x'", "01", "1.", ".5", "--1", "\"\\x\"", "\"\n\"", "/* */1", "tru",
    ];

    /// <summary>One of some.</summary>
    public T Pick<T>(IReadOnlyList<T> from) => from[random.Next(from.Count)];

    /// <summary>True once in so many times.</summary>
    public bool OnceIn(int times) => random.Next(times) == 0;

    /// <summary>A whole number below a bound.</summary>
    public int Below(int bound) => random.Next(bound);

    /// <summary>A text. May hold any character, halves of pairs among them.</summary>
    public string Text() => random.Next(12) switch
    {
        0 => new string(Pick("aA5-° \0𝟙é[{(\"'/%".ToCharArray()), random.Next(1, 6000)),
        1 => string.Concat(Enumerable.Range(0, random.Next(1, 30)).Select(_ => (char)random.Next(char.MaxValue + 1))),
        2 => Pick(Texts) + Pick(Texts),
        3 => SpoiltText(Pick(["125-127 °C", "237-8 dec.", "398 K", "CC(C)=O", "O=C(C)c1ccccc1", "[O-][N+](=O)c1ccccc1"])),
        4 => random.NextInt64().ToString(CultureInfo.InvariantCulture),
        _ => Pick(Texts),
    };

    /// <summary>A JSON value, or what only looks like one.</summary>
    public string Value() => random.Next(8) switch
    {
        0 => new string('[', random.Next(1, 40)) + new string(']', random.Next(1, 40)),
        1 => string.Concat(Enumerable.Repeat("{\"a\":", random.Next(1, 3000))) + "1",
        2 => "[" + string.Join(',', Enumerable.Repeat(Pick(Values), random.Next(1, 1200))) + "]",
        3 => new string('9', random.Next(1, 2000)),
        4 => System.Text.Json.JsonSerializer.Serialize(Text()),
        _ => Pick(Values),
    };

    /// <summary>A text with a few places spoilt: left out, doubled, exchanged, put in from elsewhere.</summary>
    /// <param name="text">The text.</param>
    /// <param name="more">Other texts, pieces of which may be put in. Missing: null, none.</param>
    public string SpoiltText(string text, IReadOnlyList<string>? more = null)
    {
        for (var times = 1 + random.Next(4); times > 0; times--)
        {
            var at = random.Next(text.Length + 1);
            var length = Math.Min(random.Next(1, 9), text.Length - at);
            text = random.Next(9) switch
            {
                0 => text.Remove(at, length),
                1 => text.Insert(at, text.Substring(at, length)),
                2 => text.Insert(at, Pick(Sources)),
                3 => text.Insert(at, Pick(Texts)),
                4 => at < text.Length ? string.Concat(text.AsSpan(0, at), ((char)random.Next(32, 127)).ToString(), text.AsSpan(at + 1)) : text,
                5 => text[..at],
                6 => more is null ? text.Insert(at, Pick(Texts)) : Spliced(text, at, Pick(more)),
                7 => string.Concat(text.AsSpan(0, at), string.Concat(Enumerable.Repeat(text.Substring(at, length), random.Next(2, 60))), text.AsSpan(at + length)),
                _ => text.Insert(at, ((char)random.Next(char.MaxValue + 1)).ToString()),
            };
        }

        return text;
    }

    /// <summary>Bytes with a few places spoilt.</summary>
    public byte[] Spoilt(byte[] bytes)
    {
        for (var times = 1 + random.Next(3); times > 0; times--)
        {
            var at = random.Next(bytes.Length + 1);
            var until = Math.Min(bytes.Length, at + random.Next(1, 9));
            bytes = random.Next(6) switch
            {
                0 => bytes[..at],
                1 => [.. bytes[..at], .. bytes[until..]],
                2 => [.. bytes[..at], .. Pick(NotUtf8), .. bytes[at..]],
                3 => [.. bytes[..until], .. bytes[at..]],
                4 => [.. bytes[..at], (byte)random.Next(256), .. bytes[Math.Min(bytes.Length, at + 1)..]],
                _ => [.. bytes[..at], .. Encoding.UTF8.GetBytes(Value()), .. bytes[until..]],
            };
        }

        return bytes;
    }

    private string Spliced(string text, int at, string other) => text[..at] + other[random.Next(other.Length + 1)..];
}
