using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using Derivid.Core.Ranking;

namespace Derivid.Store.Seeding;

/// <summary>Reads the ranking model's numbers from seed-tables/model-settings.json.</summary>
public static class ModelSettingsReader
{
    private const char PathSeparator = '.';

    private static readonly string[] Origins = ["published", "fitted", "chosen"];
    private static readonly JsonSerializerOptions FileFormat = new(JsonSerializerDefaults.Web);

    private static readonly JsonSerializerOptions SettingsFormat = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    };

    /// <summary>The settings built into this version of the service.</summary>
    /// <exception cref="InvalidDataException">The built-in file is not as this version expects it.</exception>
    public static ModelSettings BuiltIn()
    {
        using var stream = typeof(ModelSettingsReader).Assembly.GetManifestResourceStream("seed-tables/model-settings.json")
            ?? throw new InvalidDataException("seed-tables/model-settings.json is not built in.");
        return Read(stream);
    }

    /// <summary>Reads a settings file.</summary>
    /// <param name="stream">UTF-8 JSON.</param>
    /// <returns>The settings.</returns>
    /// <exception cref="InvalidDataException">A number is missing, unknown, twice there or without an origin.</exception>
    public static ModelSettings Read(Stream stream)
    {
        try
        {
            var file = JsonSerializer.Deserialize<SettingsFile>(stream, FileFormat)
                ?? throw new InvalidDataException("The settings file is empty.");
            if (file.Numbers.FirstOrDefault(number => !Origins.Contains(number.Origin) || string.IsNullOrWhiteSpace(number.Basis)) is { } bare)
            {
                throw new InvalidDataException($"{bare.Name}: origin must be {string.Join(" or ", Origins)}, with a basis.");
            }

            return Settings(file).Deserialize<ModelSettings>(SettingsFormat)!;
        }
        catch (JsonException exception)
        {
            throw new InvalidDataException($"The settings file lacks a number or has one too many: {exception.Message}", exception);
        }
    }

    // "depression.baseCelsius" is the property BaseCelsius of Depression: the names say where each number belongs.
    private static JsonObject Settings(SettingsFile file)
    {
        var settings = new JsonObject { ["version"] = file.Version };
        foreach (var number in file.Numbers)
        {
            var (parent, name) = number.Name.Split(PathSeparator, 2) is [var part, var member]
                ? (Part(settings, part), member)
                : (settings, number.Name);
            if (!parent.TryAdd(name, number.Value))
            {
                throw new InvalidDataException($"{number.Name} stands there twice.");
            }
        }

        return settings;
    }

    private static JsonObject Part(JsonObject settings, string name)
    {
        if (settings[name] is not { } part)
        {
            settings[name] = part = new JsonObject();
        }

        return part as JsonObject ?? throw new InvalidDataException($"{name} is one number and has parts.");
    }

    private sealed record SettingsFile(string Version, IReadOnlyList<SettingRow> Numbers);

    private sealed record SettingRow(string Name, double Value, string Unit, string Origin, string Basis, string IfWrong);
}
