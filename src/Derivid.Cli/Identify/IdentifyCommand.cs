using System.CommandLine;
using System.Text.Json;
using Derivid.Contracts;

namespace Derivid.Cli.Identify;

/// <summary><c>derivid identify</c>.</summary>
internal sealed class IdentifyCommand
{
    private readonly ObservationOptions _observation = new();

    private readonly Option<string?> _file = new("--file", "-f")
    {
        Description = "The observation as JSON instead, or a batch: an object with \"items\". - reads standard input.",
        HelpName = "FILE",
    };

    private readonly Option<int?> _version = new("--table-version")
    {
        Description = "Version of the reference table. Default: the current one.",
        HelpName = "NUMBER",
    };

    private readonly Option<int?> _candidates = new("--candidates")
    {
        Description = "How many candidates to list. Default: 10.",
        HelpName = "NUMBER",
    };

    private readonly Option<bool> _noStore = new("--no-store")
    {
        Description = "Don't keep the answer on the service. A batch is kept only if a key is sent.",
    };

    private IdentifyCommand()
    {
    }

    public static Command Make(CommonOptions common)
    {
        var parts = new IdentifyCommand();
        var command = new ExampledCommand(
            "identify",
            "Identify an unknown. Exit code 1: that it is none of the listed compounds is likelier than any of them; of a batch: something was refused.")
        {
            Examples =
            [
                ("one derivative and two tests",
                    "derivid identify --derivative '2,4-DNPH=125-127 °C; yellow' --test iodoform=+ --test Tollens=-"),
                ("a second derivative, and what is on the shelf",
                    "derivid identify --derivative '2,4-DNPH=125-127' --derivative 'semicarbazone=187-189' --shelf propanone butanone"),
                ("a derivative that did not form",
                    "derivid identify --derivative '2,4-DNPH=none' --test Tollens=-"),
                ("a mixture with an authentic sample",
                    "derivid identify --derivative '2,4-DNPH=125-127' --mixed '2,4-DNPH=propanone; 125-127; 126-128'"),
                ("an observation or a class's batch in a file, for a script",
                    "derivid identify --file observation.json --json"),
            ],
        };
        command.Add(parts._file);
        parts._observation.AddTo(command);
        command.Add(parts._version);
        command.Add(parts._candidates);
        command.Add(parts._noStore);
        command.SetAction((parsed, token) => parts.RunAsync(parsed, common, token));
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CommonOptions common, CancellationToken cancellationToken)
    {
        var store = !parsed.GetValue(_noStore);
        if (parsed.GetValue(_file) is not { } file)
        {
            var request = Request(parsed);
            using var session = common.Open(parsed);
            return Show(session, await session.Client.Identifications.IdentifyAsync(request, store, cancellationToken));
        }

        if (_observation.AreGiven(parsed) || parsed.GetValue(_version) is not null || parsed.GetValue(_candidates) is not null)
        {
            throw new UsageException("--file holds the whole observation; write the other options into it.");
        }

        using var reading = common.Open(parsed);
        var json = await Files.ReadAsync(file, reading.Around, cancellationToken);
        return IsBatch(json)
            ? Show(reading, await reading.Client.Identifications.IdentifyBatchAsync(json, store ? null : false, cancellationToken))
            : Show(reading, await reading.Client.Identifications.IdentifyAsync(json, store, cancellationToken));
    }

    private IdentificationRequest Request(ParseResult parsed) => _observation.AreGiven(parsed)
        ? _observation.Read(parsed) with
        {
            TableVersion = parsed.GetValue(_version),
            MaximumCandidates = parsed.GetValue(_candidates),
        }
        : throw new UsageException("Say what was observed, with --derivative or other options, or name a --file.");

    private static int Show(Session session, IdentificationReply answer)
    {
        session.Show(answer, IdentificationView.Write);
        return answer.Candidates.Count > 0 && !answer.NoneOfThese.Leads
            ? ExitCode.Done
            : ExitCode.AnswerIsNo;
    }

    private static int Show(Session session, BatchReply answer)
    {
        session.Show(answer, IdentificationView.WriteBatch);
        return answer.Refused == 0 ? ExitCode.Done : ExitCode.AnswerIsNo;
    }

    // What isn't JSON at all goes to the service as it is, which says where it goes wrong.
    private static bool IsBatch(ReadOnlyMemory<byte> json)
    {
        try
        {
            using var document = JsonDocument.Parse(json);
            return document.RootElement.ValueKind == JsonValueKind.Object
                && document.RootElement.TryGetProperty("items", out _);
        }
        catch (JsonException)
        {
            return false;
        }
    }
}
