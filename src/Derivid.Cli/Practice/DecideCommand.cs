using System.CommandLine;
using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Core.Practice.Decisions;

namespace Derivid.Cli.Practice;

/// <summary><c>derivid decide</c>.</summary>
internal sealed class DecideCommand
{
    private readonly Option<string[]> _shelf = Names("--shelf", "COMPOUND...", "The compounds it may be.", isRequired: true);
    private readonly Option<string[]> _kinds = Names("--kinds", "KIND...", "The derivatives that can be made. Default: all of the table.");
    private readonly Option<string[]> _tests = Names("--tests", "TEST...", "The spot tests that can be run. Default: all of the table.");

    private readonly Option<bool> _noConstants = new("--no-constants")
    {
        Description = "The unknown's own boiling or melting range can't be taken.",
    };

    private readonly Option<double?> _hazardMinutes = OptionOf.Number(
        "--hazard-minutes", "MIN", FormattableString.Invariant(
            $"What a class of hazard counts for, as minutes, 0 to {Observation.MostHazardMinutes}. Default: {Observation.DefaultHazardMinutes}."));

    private readonly Option<double?> _certainty = OptionOf.Number(
        "--certainty", "%", FormattableString.Invariant(
            $"From which probability a compound is named, {100 * DecisionOrder.LeastCertainty} to {100 * DecisionOrder.MostCertainty} %. Default: {100 * DecisionOrder.DefaultCertainty} %."));

    private readonly Option<double?> _none = OptionOf.Number(
        "--none", "%", FormattableString.Invariant(
            $"Probability that it is none of them, 0 to {100 * PriorChoice.MostNoneOfThese} %. Default: the model's own."));

    private readonly Option<int?> _version = new("--table-version")
    {
        Description = "Version of the table. Default: the current one.",
        HelpName = "NUMBER",
    };

    private DecideCommand()
    {
    }

    public static Command Make(CommonOptions common)
    {
        var parts = new DecideCommand();
        var command = new ExampledCommand(
            "decide", "Plan the shortest way to a name for the compounds of a shelf: what to do first, and what after each outcome.")
        {
            Examples =
            [
                ("with everything that the table knows", "derivid decide --shelf propanone butanone cyclohexanone benzaldehyde"),
                ("with what the laboratory has",
                    "derivid decide --shelf propanone butanone pentan-3-one --kinds '2,4-DNPH' semicarbazone --tests iodoform Tollens"),
            ],
        };
        foreach (var option in new Option[]
        {
            parts._shelf, parts._kinds, parts._tests, parts._noConstants, parts._hazardMinutes, parts._certainty, parts._none, parts._version,
        })
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            session.Show(await session.Client.Practice.DecideAsync(parts.Request(parsed), token), DecisionView.Write);
            return ExitCode.Done;
        });
        return command;
    }

    private DecisionRequest Request(ParseResult parsed) => new()
    {
        TableVersion = parsed.GetValue(_version),
        ShelfList = parsed.GetRequiredValue(_shelf),
        DerivativeKinds = parsed.GetValue(_kinds) is { Length: > 0 } kinds ? kinds : null,
        SpotTests = parsed.GetValue(_tests) is { Length: > 0 } tests ? tests : null,
        TakesConstants = parsed.GetValue(_noConstants) ? false : null,
        HazardMinutes = parsed.GetValue(_hazardMinutes),
        Certainty = Certainty(parsed),
        NoneOfThese = parsed.GetValue(_none) / 100,
    };

    private double? Certainty(ParseResult parsed) => (parsed.GetValue(_certainty) / 100) switch
    {
        < DecisionOrder.LeastCertainty or > DecisionOrder.MostCertainty => throw new UsageException(FormattableString.Invariant(
            $"{_certainty.Name} takes {100 * DecisionOrder.LeastCertainty} to {100 * DecisionOrder.MostCertainty} %.")),
        var certainty => certainty,
    };

    private static Option<string[]> Names(string name, string value, string description, bool isRequired = false) => new(name)
    {
        Description = description,
        HelpName = value,
        AllowMultipleArgumentsPerToken = true,
        Required = isRequired,
    };
}
