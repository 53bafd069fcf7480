namespace Derivid.Validation;

/// <summary>A part of the run.</summary>
public enum Section
{
    /// <summary>Published values.</summary>
    Literature,

    /// <summary>Simulated benches.</summary>
    Benches,

    /// <summary>What to do next.</summary>
    Advice,

    /// <summary>What each piece of evidence tells.</summary>
    Information,

    /// <summary>What thermometers cost.</summary>
    Thermometers,

    /// <summary>Decision trees for shelf lists.</summary>
    Decisions,

    /// <summary>What checking recalled values is worth.</summary>
    Checking,

    /// <summary>What is learned from classes.</summary>
    Learning,
}

/// <summary>What a run measures and where it writes.</summary>
public sealed record RunOptions
{
    /// <summary>How the options are written, for who mistypes one.</summary>
    public const string Usage =
        "[folder] [--quick] [--only literature,benches,advice,information,thermometers,decisions,checking,learning] [--settings model-settings.json]";

    /// <summary>Where the report goes.</summary>
    public string Folder { get; init; } = "artifacts/validation";

    /// <summary>Small samples, for tuning: under half a minute.</summary>
    public bool IsQuick { get; init; }

    /// <summary>The sections to run.</summary>
    public IReadOnlyCollection<Section> Sections { get; init; } = Enum.GetValues<Section>();

    /// <summary>Settings of the model. Missing: null, the built-in ones.</summary>
    public string? SettingsPath { get; init; }

    /// <summary>Reads the command line.</summary>
    /// <exception cref="ArgumentException">An option is unknown or lacks its value; the message gives the usage.</exception>
    public static RunOptions Parse(IReadOnlyList<string> args)
    {
        var options = new RunOptions();
        for (var i = 0; i < args.Count; i++)
        {
            string Value() => ++i < args.Count ? args[i] : throw new ArgumentException($"{args[i - 1]} needs a value. {Usage}");
            options = args[i] switch
            {
                "--quick" => options with { IsQuick = true },
                "--only" => options with { Sections = [.. Value().Split(',').Select(SectionOf)] },
                "--settings" => options with { SettingsPath = Value() },
                ['-', ..] => throw new ArgumentException($"No option {args[i]}. {Usage}"),
                _ => options with { Folder = args[i] },
            };
        }

        return options;
    }

    private static Section SectionOf(string name) =>
        Enum.TryParse<Section>(name, ignoreCase: true, out var section)
            ? section
            : throw new ArgumentException($"No section {name}. {Usage}");
}
