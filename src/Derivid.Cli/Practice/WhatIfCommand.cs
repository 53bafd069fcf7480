using System.CommandLine;
using Derivid.Cli.Identify;
using Derivid.Contracts;
using Derivid.Core.Ranking;

namespace Derivid.Cli.Practice;

/// <summary><c>derivid what-if</c>.</summary>
internal static class WhatIfCommand
{
    public static Command Make(CommonOptions common)
    {
        var observation = new ObservationOptions();
        var sort = new Argument<NextStepKind>("step")
        {
            Description = "derivative, spotTest, state, boilingPoint or meltingPoint.",
            CustomParser = result =>
            {
                try
                {
                    return OptionOf.Word<NextStepKind>(result.Tokens[0].Value);
                }
                catch (FormatException fault)
                {
                    result.AddError($"step: {fault.Message}");
                    return default;
                }
            },
        };
        var name = new Argument<string?>("name")
        {
            Description = "The derivative or the spot test.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var version = new Option<int?>("--table-version")
        {
            Description = "Version of the table. Default: the current one.",
            HelpName = "NUMBER",
        };
        var command = new ExampledCommand(
            "what-if", "Ask what a step not yet taken may show, and who would lead then.")
        {
            Examples =
            [
                ("a second derivative", "derivid what-if derivative semicarbazone --derivative '2,4-DNPH=125-127'"),
                ("its own boiling point", "derivid what-if boilingPoint --test iodoform=+ --shelf propanone butanone pentan-2-one"),
            ],
        };
        command.Add(sort);
        command.Add(name);
        observation.AddTo(command);
        command.Add(version);
        command.SetAction(async (parsed, token) =>
        {
            var request = new ForecastRequest
            {
                Observation = observation.Read(parsed) with { TableVersion = parsed.GetValue(version) },
                Step = new StepDescribed { Kind = parsed.GetValue(sort), Key = parsed.GetValue(name) },
            };
            using var session = common.Open(parsed);
            session.Show(await session.Client.Practice.ForecastAsync(request, token), DecisionView.WriteForecast);
            return ExitCode.Done;
        });
        return command;
    }
}
