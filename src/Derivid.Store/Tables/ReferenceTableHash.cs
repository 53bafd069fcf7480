using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;

namespace Derivid.Store.Tables;

/// <summary>Names the content of a reference table: equal tables, whatever their version, have equal hashes.</summary>
/// <remarks>
/// <para>
/// SHA-256 over a text made of words, each written as its length in bytes of UTF-8, a colon, the word and a line feed.
/// Words: "derivid-table 1"; then, for each list that has rows, by the list's name (as code units), its name and its
/// number of rows; for each row, in the table's order, the number of its columns that hold something and, by the
/// column's name, name and value. Names are those of the table's CSV files.
/// </para>
/// <para>
/// Values: a text as it stands; a number in the shortest form that reads back the same, with a point and no culture; yes
/// and no; the word of a vocabulary as in CSV; a list as the number of its items and each item. A missing value, an
/// empty list and the "no" of a flag that may be left empty are left out, name and all.
/// </para>
/// <para>
/// So a released version keeps its hash when later builds know more columns or lists, which its rows leave empty, and in
/// whatever order the code declares them. It loses it when a column or list is renamed or the text of a value changes:
/// that takes a new first word here, and both texts tried on versions released before.
/// </para>
/// </remarks>
public static class ReferenceTableHash
{
    private const string Form = "derivid-table 1";
    private const int WordsAtOnce = 1000;

    /// <summary>Hashes every row, version number left out.</summary>
    /// <param name="table">The table, ordered in order (<see cref="ReferenceTable.Ordered"/>).</param>
    /// <returns>64 lower-case hexadecimal digits.</returns>
    public static string Of(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Append(hash, [Form]);
        foreach (var (kind, rows) in table.Lists()
            .Where(list => list.Rows.Count > 0).OrderBy(list => list.Kind.TableName, StringComparer.Ordinal))
        {
            Append(hash, Rows(kind, rows));
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    private static void Append(IncrementalHash hash, IEnumerable<string> words)
    {
        foreach (var some in words.Chunk(WordsAtOnce))
        {
            var text = new StringBuilder();
            foreach (var word in some)
            {
                text.Append(CultureInfo.InvariantCulture, $"{Encoding.UTF8.GetByteCount(word)}:{word}\n");
            }

            hash.AppendData(Encoding.UTF8.GetBytes(text.ToString()));
        }
    }

    private static IEnumerable<string> Rows(RecordKind kind, IReadOnlyList<object> rows)
    {
        yield return kind.TableName;
        yield return Number(rows.Count);
        var columns = kind.Columns.OrderBy(column => column.Name, StringComparer.Ordinal).ToList();
        foreach (var word in rows.SelectMany(row => Row(columns, row)))
        {
            yield return word;
        }
    }

    private static List<string> Row(IReadOnlyList<RecordColumn> columns, object row)
    {
        var words = new List<string> { "" };
        var held = 0;
        foreach (var column in columns)
        {
            if (column.HeldBy(row) is { } value)
            {
                held++;
                words.Add(column.Name);
                words.AddRange(Value(column, value));
            }
        }

        words[0] = Number(held);
        return words;
    }

    private static IEnumerable<string> Value(RecordColumn column, object value) => value switch
    {
        string text => [text],
        double number => [Number(number)],
        int number => [Number(number)],
        IReadOnlyList<string> texts => [Number(texts.Count), .. texts],
        IReadOnlyList<double> numbers => [Number(numbers.Count), .. numbers.Select(Number)],
        var word => [column.Word(word)],
    };

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static string Number(double number) => number.ToString("R", CultureInfo.InvariantCulture);
}
