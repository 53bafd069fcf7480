using System.CommandLine;
using System.CommandLine.Parsing;
using Derivid.Api.Http;
using Derivid.Store;

namespace Derivid.Api.Operating;

/// <summary>What the words after the service's name ask for: to serve, or to do one thing to the database and end.</summary>
/// <remarks>
/// All other words are settings, as <c>--Name value</c> or <c>--Name=value</c>, such as <c>--urls</c>; a word that is neither is
/// refused, since a service that starts without what was asked of it is found out late. Thread safety: immutable.
/// </remarks>
public sealed class ServiceArguments
{
    /// <summary>The exit code of words that can't be understood.</summary>
    public const int Mistaken = 2;

    // Sections that the framework reads and binds by itself, and what it is told by a test's host.
    private static readonly string[] OfTheFramework =
    [
        "urls", "http_ports", "https_ports", "environment", "contentRoot", "webRoot", "applicationName", "AllowedHosts", "Logging",
        "Kestrel", "DetailedErrors", "HostFilteringOptions", "shutdownTimeoutSeconds",
    ];

    private ServiceArguments(ServiceTask task, FileInfo? file, IReadOnlyList<string> settings, int? exitCode)
    {
        (Task, File, Settings, ExitCode) = (task, file, settings, exitCode);
    }

    /// <summary>What is to be done.</summary>
    public ServiceTask Task { get; }

    /// <summary>The file it is done to or with. Missing: null, none was named.</summary>
    public FileInfo? File { get; }

    /// <summary>The words that are settings. Shape: as they came, in pairs or with an equals sign.</summary>
    public IReadOnlyList<string> Settings { get; }

    /// <summary>What the process ends with, since all that was asked for is answered. Missing: null, there is something to do.</summary>
    public int? ExitCode { get; }

    /// <summary>Reads them, and answers what needs no service: help, the version, words that can't be understood.</summary>
    /// <param name="args">The words.</param>
    /// <param name="output">Takes help and version.</param>
    /// <param name="error">Takes what is wrong.</param>
    public static ServiceArguments Parse(string[] args, TextWriter output, TextWriter error)
    {
        ArgumentNullException.ThrowIfNull(args);
        ArgumentNullException.ThrowIfNull(error);
        var migrate = new Option<bool>("--migrate") { Description = "Bring the database up to date and end, as a role that may change tables." };
        var backUp = new Option<FileInfo>("--backup") { Description = "Copy the SQLite database into a new file, while a service may be using it, and check the copy.", HelpName = "FILE" };
        var restore = new Option<FileInfo>("--restore") { Description = "Put a copy in place of the SQLite database, which no service may be using; the one before is kept beside it.", HelpName = "FILE" };
        var check = new Option<FileInfo>("--check") { Description = "Look whether an SQLite database or a copy of one is sound; without a file, the one that would be served.", HelpName = "FILE", Arity = ArgumentArity.ZeroOrOne };
        var root = new RootCommand(
            "Serves Derivid: the API, and the page over it. Settings are given as environment variables (Access__RequireKeyToRead=true), "
            + "or here as --Access:RequireKeyToRead true; README.md lists them. Such are --urls http://127.0.0.1:5080, where it listens, and "
            + "--Derivid:DataFolder, where the SQLite database lies.")
        {
            migrate, backUp, restore, check,
        };
        root.SetAction(_ => 0);
        var (own, settings, mistakes) = Parted(args, [.. root.Options.SelectMany(option => option.Aliases.Append(option.Name))]);
        var parsed = root.Parse(own, new ParserConfiguration { ResponseFileTokenReplacer = null });
        ServiceArguments Answered(int code) => new(ServiceTask.Serve, null, [], code);
        if (parsed.Errors.Count > 0 || mistakes.Count > 0)
        {
            return Answered(Tell(error, [.. parsed.Errors.Select(fault => fault.Message), .. mistakes]));
        }

        if (parsed.CommandResult.Command.Action != parsed.Action)
        {
            return Answered(parsed.Invoke(new InvocationConfiguration { Output = output, Error = error }));
        }

        (ServiceTask Task, Option Option, FileInfo? File)[] tasks =
        [
            (ServiceTask.Migrate, migrate, null),
            (ServiceTask.BackUp, backUp, parsed.GetValue(backUp)),
            (ServiceTask.Restore, restore, parsed.GetValue(restore)),
            (ServiceTask.Check, check, parsed.GetValue(check)),
        ];
        var asked = tasks.Where(task => parsed.GetResult(task.Option) is OptionResult { Implicit: false }).ToList();
        return asked switch
        {
            [] => new ServiceArguments(ServiceTask.Serve, null, settings, null),
            [var one] => new ServiceArguments(one.Task, one.File, settings, null),
            _ => Answered(Tell(error, [$"Only one of {string.Join(", ", asked.Select(one => one.Option.Name))} is done at a time."])),
        };
    }

    /// <summary>Says which settings given a value here the service has never asked for, once it is set up.</summary>
    /// <param name="asked">What it asked for.</param>
    /// <param name="error">Takes what is wrong.</param>
    /// <returns>Whether there are such.</returns>
    public bool NameUnknown(SettingsAsked asked, TextWriter error)
    {
        ArgumentNullException.ThrowIfNull(asked);
        ArgumentNullException.ThrowIfNull(error);
        var unknown = new ConfigurationBuilder().AddCommandLine([.. Settings]).Build().AsEnumerable()
            .Where(setting => setting.Value is { Length: > 0 } && !asked.Contains(setting.Key)
                && !OfTheFramework.Contains(setting.Key.Split(':')[0], StringComparer.OrdinalIgnoreCase))
            .Select(setting => $"{Text.Quoted(setting.Key)} is no setting of the service.").ToList();
        return unknown.Count > 0 && Tell(error, unknown) == Mistaken;
    }

    /// <summary>Says which setting can't be what it is, where that is what keeps the service from starting.</summary>
    /// <param name="fault">What was thrown.</param>
    /// <param name="error">Takes what is wrong.</param>
    /// <returns>Whether it was a setting.</returns>
    public static bool NameImpossible(Exception fault, TextWriter error)
    {
        ArgumentNullException.ThrowIfNull(error);

        // Of a value that is no number or none of an enumeration the framework tells in a sentence of its own, and no type of its own.
        return fault is SettingException or InvalidOperationException { InnerException: ArgumentException or FormatException }
            && Tell(error, [fault.Message]) == Mistaken;
    }

    private static int Tell(TextWriter error, IEnumerable<string> mistakes)
    {
        foreach (var mistake in mistakes)
        {
            error.WriteLine(mistake);
        }

        error.WriteLine("Nothing was started. What there is: --help; the settings: README.md.");
        return Mistaken;
    }

    // Settings are told apart first: to the parser they would look like the file that a task may be given.
    private static (List<string> Own, List<string> Settings, List<string> Mistakes) Parted(string[] words, HashSet<string> names)
    {
        var (own, settings, mistakes) = (new List<string>(), new List<string>(), new List<string>());
        for (var i = 0; i < words.Length; i++)
        {
            var (word, name) = (words[i], words[i].Split('=')[0]);
            var isOption = word.StartsWith("--", StringComparison.Ordinal);
            if (names.Contains(name) || (!isOption && (name == word || name.Length == 0 || (i > 0 && names.Contains(words[i - 1])))))
            {
                own.Add(word);
            }
            else if (name != word)
            {
                settings.Add(word);
            }
            else if (i + 1 < words.Length && !words[i + 1].StartsWith("--", StringComparison.Ordinal))
            {
                settings.AddRange([word, words[++i]]);
            }
            else
            {
                mistakes.Add($"{Text.Quoted(word)} is neither a setting with its value nor anything the service does.");
            }
        }

        return (own, settings, mistakes);
    }
}

/// <summary>What the service is started for.</summary>
public enum ServiceTask
{
    /// <summary>To serve.</summary>
    Serve,

    /// <summary>To bring the database up to date.</summary>
    Migrate,

    /// <summary>To copy an SQLite database.</summary>
    BackUp,

    /// <summary>To put a copy in the place of an SQLite database.</summary>
    Restore,

    /// <summary>To look whether an SQLite database is sound.</summary>
    Check,
}
