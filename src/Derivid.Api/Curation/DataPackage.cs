using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Tables;

namespace Derivid.Api.Curation;

/// <summary>A version of the table as a Data Package: its lists as CSV, and what a program needs to read and cite them.</summary>
/// <remarks>Source: Data Package and Table Schema, version 2.0, https://datapackage.org/standard/data-package/.</remarks>
public static class DataPackage
{
    private const string Descriptor = "datapackage.json";

    private static readonly JsonSerializerOptions Written = new() { WriteIndented = true, NewLine = "\n", Encoder = WireJson.WithDefaults.Encoder };

    /// <summary>The package, in one ZIP archive.</summary>
    /// <param name="table">The table.</param>
    /// <param name="version">The version it is.</param>
    /// <returns>Equal bytes for the same version.</returns>
    public static byte[] Zip(ReferenceTable table, TableVersion version)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(version);
        var files = table.Lists().Select(list => (list.Kind, Content: TableExport.Csv(table, list.Kind))).ToList();
        return TableExport.Zipped([(Descriptor, Of(table, version, files)), .. files.Select(file => (file.Kind.FileName, file.Content))]);
    }

    private static byte[] Of(ReferenceTable table, TableVersion version, IEnumerable<(RecordKind Kind, byte[] Content)> files)
    {
        var title = string.Create(CultureInfo.InvariantCulture, $"Derivid reference table, version {version.Number}");
        var day = version.ReleasedAtUtc.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        var descriptor = new JsonObject
        {
            ["$schema"] = "https://datapackage.org/profiles/2.0/datapackage.json",
            ["name"] = "derivid-reference-table",
            ["id"] = "urn:derivid:table:sha256:" + version.ContentHash,
            ["title"] = title,
            ["description"] =
                $"Aldehydes and ketones, melting points of their derivatives, spot tests and colours, each value with its source. {version.Note}\n\n"
                + $"To cite: The Derivid authors, {title}, {day}, SHA-256 {version.ContentHash}; and the source of each value.\n\n"
                + "Temperatures are in °C, masses in g/mol, times in minutes, pressures in kPa. Values marked as recalled were not read in their source. "
                + "A text that a spreadsheet program would run as a formula has an apostrophe in front. "
                + Caution.DeferralOfList,
            ["version"] = string.Create(CultureInfo.InvariantCulture, $"{version.Number}.0.0"),
            ["created"] = version.ReleasedAtUtc.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture),
            ["licenses"] = new JsonArray(new JsonObject
            {
                ["name"] = "MIT",
                ["title"] = "MIT License, of the arrangement and the wording; single facts are nobody's",
                ["path"] = "https://opensource.org/license/mit",
            }),
            ["contributors"] = new JsonArray(new JsonObject { ["title"] = "The Derivid authors", ["roles"] = new JsonArray("creator") }),
            ["sources"] = new JsonArray([.. table.Sources.Select(SourceOf)]),
            ["resources"] = new JsonArray([.. files.Select(file => ResourceOf(file.Kind, file.Content))]),
        };
        return [.. JsonSerializer.SerializeToUtf8Bytes(descriptor, Written), (byte)'\n'];
    }

    private static JsonObject SourceOf(Source source)
    {
        var cited = new JsonObject { ["title"] = source.Citation };
        if (source.Link() is { } address)
        {
            cited["path"] = address;
        }

        return cited;
    }

    private static JsonObject ResourceOf(RecordKind kind, byte[] content)
    {
        var schema = new JsonObject
        {
            ["fields"] = new JsonArray([.. kind.Columns.Select(FieldOf)]),
            ["primaryKey"] = new JsonArray([.. kind.Key.Select(column => JsonValue.Create(column.Name))]),
        };
        if (kind.Columns.Where(column => column.Names is not null).ToList() is { Count: > 0 } names)
        {
            schema["foreignKeys"] = new JsonArray([.. names.Select(column => new JsonObject
            {
                ["fields"] = new JsonArray(column.Name),
                ["reference"] = new JsonObject { ["resource"] = column.Names!.TableName, ["fields"] = new JsonArray(column.Names.Key.Single().Name) },
            })]);
        }

        return new JsonObject
        {
            ["name"] = kind.TableName,
            ["path"] = kind.FileName,
            ["type"] = "table",
            ["format"] = "csv",
            ["mediatype"] = "text/csv",
            ["encoding"] = "utf-8",
            ["bytes"] = content.Length,
            ["hash"] = "sha256:" + Convert.ToHexStringLower(SHA256.HashData(content)),
            ["schema"] = schema,
        };
    }

    private static JsonObject FieldOf(RecordColumn column)
    {
        var field = new JsonObject { ["name"] = column.Name, ["title"] = column.Label };
        if (column.Hint is { } hint)
        {
            field["description"] = hint;
        }

        var constraints = new JsonObject();
        if (column.IsRequired)
        {
            constraints["required"] = true;
        }

        switch (column.Content)
        {
            case CellContent.Text:
                field["type"] = "string";
                break;
            case CellContent.Number:
                field["type"] = "number";
                break;
            case CellContent.WholeNumber:
                field["type"] = "integer";
                break;
            case CellContent.Texts or CellContent.Numbers:
                // The standard has a type for lists, and its published profile refuses it.
                (field["type"], field["description"]) = ("string", "Several, parted by semicolons; may be empty.");
                constraints.Remove("required");
                if (column.Content == CellContent.Numbers)
                {
                    constraints["pattern"] = @"^-?\d+(\.\d+)?(;-?\d+(\.\d+)?)*$";
                }

                break;
            case CellContent.Word when column.Vocabulary.Contains(true):
                (field["type"], field["trueValues"], field["falseValues"]) = ("boolean", new JsonArray("yes"), new JsonArray("no"));
                break;
            case CellContent.Word:
                field["type"] = "string";
                constraints["enum"] = new JsonArray([.. column.Vocabulary.Select(value => JsonValue.Create(column.Word(value)))]);
                break;
        }

        if (column.MissingWord is { } unstated)
        {
            field["missingValues"] = new JsonArray("", unstated);
        }

        if (constraints.Count > 0)
        {
            field["constraints"] = constraints;
        }

        return field;
    }
}
