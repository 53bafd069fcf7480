using System.CommandLine;
using System.Text.Json;
using Derivid.Cli.Identify;
using Derivid.Contracts;
using Derivid.Core.Observations;

namespace Derivid.Cli.Practice;

/// <summary><c>derivid reading-guide</c>.</summary>
internal sealed class ReadingGuideCommand
{
    private readonly Argument<string?> _kind = new("kind")
    {
        Description = "The kind of derivative. Without it: the compound or the standard itself.",
        Arity = ArgumentArity.ZeroOrOne,
    };

    private readonly Option<string?> _parent = Text("--parent", "COMPOUND", "The compound: key, name or CAS number. Without it: an unknown.");

    private readonly Option<string?> _standard = Text("--of-standard", "STANDARD", "A melting-point standard, in the place of kind and compound.");

    private readonly Option<string?> _expected = Text(
        "--expected", "RANGE", "Where it melts when pure, such as '237-238 dec.'. Default: as the table lists it.");

    private readonly Option<string?> _read = Text("--read", "RANGE", "The range as read, for the impurity that its depression means.");

    private readonly Option<Preparation?> _preparation = new("--preparation")
    {
        Description = "What was done to the crystals that were read: unstated, crude or recrystallised.",
        HelpName = "PREPARATION",
    };

    private readonly Option<double?> _enthalpy = OptionOf.Number(
        "--enthalpy", "KJ/MOL", "Its enthalpy of fusion. Default: a printed one, else a bound from those of other substances.");

    private readonly Option<double?> _reach = OptionOf.Number("--reach", "°C", "Where bath or thermometer end.");

    private readonly Option<bool> _sublimes = new("--sublimes") { Description = "It is known to sublime." };

    private readonly Option<string?> _thermometer = Text(
        "--thermometer", "ID", "A registered thermometer, by its id; see derivid thermometers list.");

    private readonly Option<StandardMelted[]> _standards = OptionOf.Many(
        "--standard", "STANDARD=°C", "A melting-point standard and what your thermometer showed, such as benzoic-acid=120.9.", ObservationText.Standard);

    private readonly Option<string?> _observation = Text(
        "--observation", "FILE", "All that was observed, as JSON: whether another recrystallisation is worth its time. - reads standard input.");

    private readonly Option<int?> _version = new("--table-version")
    {
        Description = "Version of the table. Default: the current one.",
        HelpName = "NUMBER",
    };

    private ReadingGuideCommand()
    {
    }

    public static Command Make(CommonOptions common)
    {
        var parts = new ReadingGuideCommand();
        var command = new ExampledCommand(
            "reading-guide", "Guide the reading of a melting range: how to heat, what counts, and what a depression tells of the purity.")
        {
            Examples =
            [
                ("before a tube is heated", "derivid reading-guide '2,4-DNPH' --parent acetone"),
                ("of what decomposes, with a bath that ends", "derivid reading-guide semicarbazone --expected '222-224 dec.' --reach 250"),
                ("what a range that was read tells of the purity", "derivid reading-guide '2,4-DNPH' --parent acetone --read 121-124 --preparation crude"),
            ],
        };
        command.Add(parts._kind);
        foreach (var option in new Option[]
        {
            parts._parent, parts._standard, parts._expected, parts._read, parts._preparation, parts._enthalpy, parts._reach, parts._sublimes,
            parts._thermometer, parts._standards, parts._observation, parts._version,
        })
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var observation = parsed.GetValue(parts._observation) is { } file ? Observation(await Files.ReadAsync(file, session.Around, token), file) : null;
            session.Show(await session.Client.Practice.GuideReadingAsync(parts.Request(parsed, observation), token), ReadingGuideView.Write);
            return ExitCode.Done;
        });
        return command;
    }

    private ReadingGuideRequest Request(ParseResult parsed, IdentificationRequest? observation) => new()
    {
        TableVersion = parsed.GetValue(_version),
        Kind = parsed.GetValue(_kind),
        Parent = parsed.GetValue(_parent),
        Standard = parsed.GetValue(_standard),
        Expected = Range(parsed.GetValue(_expected)),
        Read = Range(parsed.GetValue(_read)),
        Preparation = parsed.GetValue(_preparation),
        Thermometer = Thermometer(parsed),
        ReachCelsius = parsed.GetValue(_reach),
        Sublimes = parsed.GetValue(_sublimes) ? true : null,
        EnthalpyOfFusionKilojoulesPerMole = parsed.GetValue(_enthalpy),
        Observation = observation,
    };

    private ThermometerDescribed? Thermometer(ParseResult parsed)
    {
        var (id, standards) = (parsed.GetValue(_thermometer), parsed.GetValue(_standards) is { Length: > 0 } melted ? melted : null);
        return id is null && standards is null ? null : new ThermometerDescribed { Id = id, Standards = standards };
    }

    private static RangeObserved? Range(string? text) => text is null ? null : (RangeObserved)text;

    private static IdentificationRequest? Observation(ReadOnlyMemory<byte> json, string file)
    {
        try
        {
            return JsonSerializer.Deserialize(json.Span, WireJson.Context.IdentificationRequest);
        }
        catch (JsonException fault)
        {
            throw new UsageException($"{file} is no observation: {fault.Message}");
        }
    }

    private static Option<string?> Text(string name, string form, string description) => new(name) { Description = description, HelpName = form };
}
