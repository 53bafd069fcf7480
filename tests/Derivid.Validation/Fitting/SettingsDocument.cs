using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;

namespace Derivid.Validation.Fitting;

/// <summary>The model settings file, open for fitting.</summary>
public sealed class SettingsDocument
{
    private static readonly JsonSerializerOptions Written = new()
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    private readonly JsonObject _root;
    private readonly Dictionary<string, JsonObject> _numbers;

    private SettingsDocument(string json)
    {
        _root = JsonNode.Parse(json)!.AsObject();
        _numbers = _root["numbers"]!.AsArray()
            .Select(number => number!.AsObject())
            .ToDictionary(number => (string)number["name"]!, StringComparer.Ordinal);
    }

    /// <summary>Reads the file.</summary>
    public static SettingsDocument Load(string path) => new(File.ReadAllText(path));

    /// <summary>A copy that can be changed by itself.</summary>
    public SettingsDocument Copy() => new(_root.ToJsonString());

    /// <summary>The value of a number.</summary>
    public double this[string name]
    {
        get => (double)_numbers[name]["value"]!;
        set => _numbers[name]["value"] = value;
    }

    /// <summary>Enters a fitted number with where it came from.</summary>
    /// <param name="name">The number.</param>
    /// <param name="value">Its value, kept to three figures.</param>
    /// <param name="origin">published, fitted or chosen.</param>
    /// <param name="basis">Script and data.</param>
    public void Enter(string name, double value, string origin, string basis)
    {
        var number = _numbers[name];
        number["value"] = double.Parse(value.ToString("G3", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        number["origin"] = origin;
        number["basis"] = basis;
    }

    /// <summary>The settings as the engine takes them.</summary>
    public ModelSettings Settings()
    {
        using var stream = new MemoryStream(Encoding.UTF8.GetBytes(_root.ToJsonString()));
        return ModelSettingsReader.Read(stream);
    }

    /// <summary>Writes the file with the version raised by one.</summary>
    public void Save(string path)
    {
        var version = int.Parse((string)_root["version"]!, CultureInfo.InvariantCulture) + 1;
        _root["version"] = version.ToString(CultureInfo.InvariantCulture);
        File.WriteAllText(path, _root.ToJsonString(Written) + "\n");
    }
}
