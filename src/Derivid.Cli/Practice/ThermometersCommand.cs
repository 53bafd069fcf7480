using System.CommandLine;
using Derivid.Cli.Identify;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Melting;
using Spectre.Console;

namespace Derivid.Cli.Practice;

/// <summary><c>derivid thermometers</c>.</summary>
internal static class ThermometersCommand
{
    public static Command Make(CommonOptions common) => new("thermometers", "Thermometers that are registered; needs a key.")
    {
        ListThermometersCommand.Make(common),
        RegisterThermometerCommand.Make(common),
        CheckThermometerCommand.Make(common),
        ShowThermometerCommand.Make(common),
    };
}

/// <summary><c>derivid thermometers list</c>.</summary>
internal static class ListThermometersCommand
{
    public static Command Make(CommonOptions common)
    {
        var command = new ExampledCommand("list", "List yours, and those of the staff of your courses.")
        {
            Examples = [("all of them", "derivid thermometers list")],
        };
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            session.Show(await session.Client.Thermometers.ListAsync(token).ToListAsync(token), Write);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, List<ThermometerLink> thermometers)
    {
        var table = Screen.NewTable("id", "name", "filled with", "registered by");
        foreach (var thermometer in thermometers)
        {
            table.AddTexts(
                thermometer.Id, thermometer.Name, thermometer.Liquid is { } liquid ? WireJson.Word(liquid) : "electronic", thermometer.RegisteredBy);
        }

        console.Write(table);
    }
}

/// <summary><c>derivid thermometers register</c>.</summary>
internal static class RegisterThermometerCommand
{
    public static Command Make(CommonOptions common)
    {
        var name = new Argument<string>("name") { Description = "What is written on it." };
        var liquid = new Option<ThreadLiquid?>("--liquid")
        {
            Description = "What it is filled with: mercury, alcohol, petroleum or gallium. Default: it is electronic.",
            HelpName = "LIQUID",
        };
        var command = new ExampledCommand("register", "Register one, so that observations can name it.")
        {
            Examples = [("with a red thread", "derivid thermometers register 'Bench 3' --liquid petroleum")],
        };
        command.Add(name);
        command.Add(liquid);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var made = await session.Client.Thermometers.RegisterAsync(
                new ThermometerRequest { Name = parsed.GetRequiredValue(name), Liquid = parsed.GetValue(liquid) }, cancellationToken: token);
            session.Show(made, ThermometerView.Write);
            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>derivid thermometers check</c>.</summary>
internal static class CheckThermometerCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = ThermometerView.Id();
        var standards = OptionOf.Many(
            "--standard", "STANDARD=°C", "A melting-point standard and what it read, such as benzoic-acid=120.9.", ObservationText.Standard);
        standards.Required = true;
        var meltedAt = new Option<DateTimeOffset?>("--melted-at")
        {
            Description = "When they were melted, such as 2026-03-02T10:30+01:00. Default: now.",
            HelpName = "MOMENT",
        };
        var command = new ExampledCommand("check", "Tell what standards read on one: its calibration from then on.")
        {
            Examples =
            [
                ("three standards", "derivid thermometers check 01970f1e2d3c70008b5a69780f1e2d3c --standard naphthalene=78.5 --standard benzoic-acid=119.5 --standard caffeine=232"),
            ],
        };
        command.Add(id);
        command.Add(standards);
        command.Add(meltedAt);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var made = await session.Client.Thermometers.CalibrateAsync(
                parsed.GetRequiredValue(id),
                new CalibrationRequest { Standards = parsed.GetRequiredValue(standards), MeltedAt = parsed.GetValue(meltedAt) },
                cancellationToken: token);
            session.Show(made, ThermometerView.Write);
            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>derivid thermometers show</c>.</summary>
internal static class ShowThermometerCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = ThermometerView.Id();
        var command = new ExampledCommand("show", "Show one: its correction, how far that may be out, and what to look to.")
        {
            Examples =
            [
                ("one", "derivid thermometers show 01970f1e2d3c70008b5a69780f1e2d3c"),
                ("its correction, with jq", "derivid thermometers show 01970f1e2d3c70008b5a69780f1e2d3c --json | jq '.curve[]'"),
            ],
        };
        command.Add(id);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            session.Show(await session.Client.Thermometers.GetAsync(parsed.GetRequiredValue(id), token), ThermometerView.Write);
            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary>A thermometer on the screen.</summary>
internal static class ThermometerView
{
    /// <summary>The argument that names one.</summary>
    public static Argument<string> Id() => new("id") { Description = "Its id, as list tells it." };

    public static void Write(IAnsiConsole console, ThermometerItem thermometer)
    {
        console.WriteLine($"{thermometer.Name}, {(thermometer.Liquid is { } liquid ? WireJson.Word(liquid) : "electronic")}: {thermometer.Id}");
        if (thermometer.Curve is { } curve)
        {
            var table = Screen.NewTable("read, °C", "add, °C", "±, °C");
            foreach (var point in curve.Where((_, place) => place % 4 == 0))
            {
                table.AddTexts(Figure.Degrees(point.ReadCelsius), Figure.Text(point.CorrectionCelsius, 1), Figure.Text(point.ErrorCelsius, 1));
            }

            console.Write(table);
        }

        foreach (var warning in thermometer.Warnings)
        {
            console.WriteLine("! " + warning);
        }
    }
}
