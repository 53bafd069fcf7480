using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Seeding;

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
/// and no; the word of a vocabulary as in CSV; a list as the number of its items and each item. A missing value and an
/// empty list are left out, name and all.
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

    /// <summary>Hashes every row, version number left out.</summary>
    /// <param name="table">The table, ordered as <see cref="ReferenceTableOrder"/> orders it.</param>
    /// <returns>64 lower-case hexadecimal digits.</returns>
    public static string Of(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var word in Words(table))
        {
            var bytes = Encoding.UTF8.GetBytes(word);
            hash.AppendData(Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{bytes.Length}:")));
            hash.AppendData(bytes);
            hash.AppendData("\n"u8);
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    private static IEnumerable<string> Words(ReferenceTable table)
    {
        yield return Form;
        foreach (var type in RecordTypes.All.OrderBy(type => type.TableName, StringComparer.Ordinal))
        {
            var rows = type.RowsOf(table);
            if (rows.Count == 0)
            {
                continue;
            }

            yield return type.TableName;
            yield return Number(rows.Count);
            var fields = type.Fields.ToDictionary(field => field.Name, field => field.Of, StringComparer.Ordinal);
            var columns = RecordFiles.Of(type.Kind).Columns.OrderBy(column => column.Name, StringComparer.Ordinal)
                .Select(column => (column.Name, Of: fields[column.Field])).ToList();
            foreach (var word in rows.SelectMany(row => Row(columns, row)))
            {
                yield return word;
            }
        }
    }

    private static List<string> Row(List<(string Name, Func<object, object?> Of)> columns, object row)
    {
        var words = new List<string>();
        var held = 0;
        foreach (var (name, of) in columns)
        {
            if (of(row) is { } value and not IReadOnlyList<string> { Count: 0 } and not IReadOnlyList<double> { Count: 0 })
            {
                held++;
                words.Add(name);
                words.AddRange(Value(value));
            }
        }

        words.Insert(0, Number(held));
        return words;
    }

    private static IEnumerable<string> Value(object value) => value switch
    {
        string text => [text],
        double number => [Number(number)],
        int number => [Number(number)],
        bool isYes => [isYes ? "yes" : "no"],
        Enum member => [Keyword.Of(member)],
        IReadOnlyList<string> texts => [Number(texts.Count), .. texts],
        IReadOnlyList<double> numbers => [Number(numbers.Count), .. numbers.Select(Number)],
        _ => throw new NotSupportedException($"No canonical text for {value.GetType()}."),
    };

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);

    private static string Number(double number) => number.ToString("R", CultureInfo.InvariantCulture);
}
