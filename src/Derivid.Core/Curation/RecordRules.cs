namespace Derivid.Core.Curation;

/// <summary>What can be said of one record, given the rest of the table: form, chemistry, what it cites.</summary>
public static class RecordRules
{
    /// <summary>Checks a record.</summary>
    /// <param name="kind">The kind of record.</param>
    /// <param name="record">The record.</param>
    /// <param name="index">The table it is meant for; it may be part of it.</param>
    /// <returns>Shape: in the order of the rules; empty when all is well.</returns>
    public static IReadOnlyList<TableFinding> Check(RecordKind kind, object record, TableIndex index)
    {
        ArgumentNullException.ThrowIfNull(kind);
        ArgumentNullException.ThrowIfNull(record);
        ArgumentNullException.ThrowIfNull(index);
        var found = new List<TableFinding>();
        var findings = new RecordFindings(kind, kind.KeyOf(record), found);
        FormRules.Check(record, kind, findings);

        // Whatever isn't written as it may be is told so once, and not what it fails to mean besides.
        var misshapen = found.Select(finding => finding.Field).ToHashSet(StringComparer.Ordinal);
        var meant = new List<TableFinding>();
        findings = new RecordFindings(kind, kind.KeyOf(record), meant);
        NameRules.Check(record, kind, index, findings);
        kind.Check(record, index, findings);
        return [.. found, .. meant.Where(finding => !misshapen.Contains(finding.Field))];
    }
}

/// <summary>What a record names by key is in the table.</summary>
internal static class NameRules
{
    public static void Check(object record, RecordKind kind, TableIndex index, RecordFindings findings)
    {
        foreach (var column in kind.Columns)
        {
            if (column.Names is { } listed && column.Of(record) is string key && index.Find(listed, key) is null)
            {
                findings.Require(false, column.Field, key, Allowed(column, listed, index));
            }
        }
    }

    private static string Allowed(RecordColumn column, RecordKind listed, TableIndex index) => listed.Noun is { } noun
        ? $"the key of a {noun} of the table{(column.IsRequired ? "" : ", or nothing")}; add the {noun.Split(' ')[^1]} first"
        : "one of " + string.Join(", ", index.KeysOf(listed));
}

/// <summary>What holds for the fields of every record, so that it can be written as text and read back the same.</summary>
internal static class FormRules
{
    /// <summary>What a key is made of.</summary>
    public const string AllowedKey = "letters of the Latin alphabet, digits, and single hyphens between them";

    private const int LongestText = 2000;
    private const double LargestNumber = 1e9;
    private const double SmallestNumber = 1e-9;

    public static void Check(object record, RecordKind kind, RecordFindings findings)
    {
        foreach (var column in kind.Columns)
        {
            switch (column.Of(record))
            {
                case string key when column.Names is not null || kind.Key.Contains(column):
                    findings.Require(
                        IsKey(key), column.Field, key, AllowedKey);
                    break;
                case string text:
                    CheckText(text, column.Field, findings);
                    break;
                case IReadOnlyList<string> texts:
                    CheckList(texts, column.Field, findings);
                    break;
                case double number:
                    CheckNumber(number, column.Field, findings);
                    break;
                case IReadOnlyList<double> numbers:
                    foreach (var number in numbers)
                    {
                        CheckNumber(number, column.Field, findings);
                    }

                    break;
            }
        }
    }

    private static void CheckText(string text, string field, RecordFindings findings)
    {
        findings.Require(text.Length > 0, field, text, "a text that isn't empty; leave out what is missing");
        findings.Require(text.Length <= LongestText, field, text, "at most 2000 characters");
        findings.Require(text == text.Trim() && !text.Any(IsControl), field, text,
            "one line of plain text without spaces at either end");
    }

    private static void CheckList(IReadOnlyList<string> texts, string field, RecordFindings findings)
    {
        foreach (var text in texts)
        {
            findings.Require(!text.Contains(';', StringComparison.Ordinal), field, text, "texts without semicolons, which part them in CSV");
            CheckText(text, field, findings);
        }

        findings.Require(
            texts.Distinct(StringComparer.OrdinalIgnoreCase).Count() == texts.Count, field, string.Join(';', texts), "each text once");
    }

    private static void CheckNumber(double number, string field, RecordFindings findings) => findings.Require(
        number == 0 || Math.Abs(number) is >= SmallestNumber and <= LargestNumber, field, number,
        "0, or a number whose size lies from 1e-9 to 1e9");

    /// <summary>Whether a text has the form of a key. Bounds: 200 characters.</summary>
    public static bool IsKey(string text) =>
        text.Length is > 0 and <= 200 && text.Split('-').All(part => part.Length > 0 && part.All(char.IsAsciiLetterOrDigit));

    private static bool IsControl(char letter) => char.IsControl(letter) || letter is '\u2028' or '\u2029';
}
