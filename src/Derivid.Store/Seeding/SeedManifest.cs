using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;
using CsvHelper;

namespace Derivid.Store.Seeding;

/// <summary>The seal of the seed tables: what each file holds, so that a change cannot pass unseen.</summary>
/// <param name="Version">Number of the table version, from 1.</param>
/// <param name="Files">Shape: one entry a table file, ordered by name.</param>
public sealed record SeedManifest(int Version, IReadOnlyList<SealedFile> Files)
{
    /// <summary>Name of the manifest's own file.</summary>
    public const string FileName = "manifest.json";

    private static readonly JsonSerializerOptions Format = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        NewLine = "\n",
    };

    /// <summary>Reads a manifest.</summary>
    /// <exception cref="SeedTableException">The text is not a manifest.</exception>
    public static SeedManifest Parse(string json)
    {
        try
        {
            return JsonSerializer.Deserialize<SeedManifest>(json, Format)
                ?? throw new SeedTableException($"{FileName} holds null; allowed: an object.");
        }
        catch (JsonException exception)
        {
            throw new SeedTableException($"{FileName} is not a manifest: {exception.Message}", exception);
        }
    }

    /// <summary>Writes the manifest as indented JSON ending in a line feed.</summary>
    public string ToJson() => JsonSerializer.Serialize(this, Format) + "\n";

    /// <summary>Counts, sums and hashes one table file.</summary>
    /// <param name="fileName">The file's name.</param>
    /// <param name="bytes">The whole file.</param>
    public static SealedFile Describe(string fileName, byte[] bytes)
    {
        using var parser = new CsvParser(new StreamReader(new MemoryStream(bytes)), CultureInfo.InvariantCulture);
        parser.Read();
        var header = parser.Record!;
        var rows = new List<string[]>();
        while (parser.Read())
        {
            rows.Add(parser.Record!);
        }

        var sums = new SortedDictionary<string, double>(StringComparer.Ordinal);
        for (var column = 0; column < header.Length; column++)
        {
            if (SumOf(rows, column) is { } sum)
            {
                sums[header[column]] = sum;
            }
        }

        return new SealedFile(fileName, rows.Count, sums, Convert.ToHexStringLower(SHA256.HashData(bytes)));
    }

    /// <summary>Compares a file with its entry.</summary>
    /// <exception cref="SeedTableException">There is no entry, or the hash differs.</exception>
    public void Verify(string fileName, byte[] bytes)
    {
        var entry = Files.SingleOrDefault(file => file.File == fileName)
            ?? throw new SeedTableException($"{FileName} has no entry for {fileName}.");
        var hash = Convert.ToHexStringLower(SHA256.HashData(bytes));
        if (hash != entry.Sha256)
        {
            throw new SeedTableException(
                $"{fileName}: SHA-256 \"{hash}\" is not allowed; allowed: \"{entry.Sha256}\" as {FileName} has it.");
        }
    }

    private static double? SumOf(List<string[]> rows, int column)
    {
        decimal sum = 0;
        var any = false;
        foreach (var cell in rows.Select(row => row[column]).Where(cell => cell.Length > 0))
        {
            if (!decimal.TryParse(
                cell,
                NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
                CultureInfo.InvariantCulture,
                out var value))
            {
                return null;
            }

            sum += value;
            any = true;
        }

        return any ? (double)sum : null;
    }
}

/// <summary>What the manifest says of one table file.</summary>
/// <param name="File">The file's name.</param>
/// <param name="Rows">Rows without the header.</param>
/// <param name="ColumnSums">Sum of each column in which every cell with text is a number, by column name.</param>
/// <param name="Sha256">SHA-256 of the bytes, lower-case hexadecimal.</param>
public sealed record SealedFile(string File, int Rows, SortedDictionary<string, double> ColumnSums, string Sha256);
