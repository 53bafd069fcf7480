using System.CommandLine;
using Derivid.Contracts;
using Derivid.Core.Practice;

namespace Derivid.Cli.Practice;

/// <summary><c>derivid prepare</c>.</summary>
internal sealed class PrepareCommand
{
    private readonly Argument<string> _kind = new("kind") { Description = "The kind of derivative." };

    private readonly Option<double?> _milligrams = Required("--mg", "MG", "The carbonyl compound for one derivative.");

    private readonly Option<string?> _parent = new("--parent")
    {
        Description = "The compound: key, name or CAS number. Without it: an unknown, of which --molar-mass is given.",
        HelpName = "COMPOUND",
    };

    private readonly Option<MolarMassSpan?> _molarMass = new("--molar-mass")
    {
        Description = "Molar mass of an unknown, as a span such as 90-130.",
        HelpName = "G/MOL",
        CustomParser = result =>
        {
            try
            {
                return Span(result.Tokens[0].Value);
            }
            catch (FormatException fault)
            {
                result.AddError($"--molar-mass: {fault.Message}");
                return null;
            }
        },
    };

    private readonly Option<double?> _density = OptionOf.Number("--density", "G/ML", "Density of the compound, to measure it by volume.");

    private readonly Option<int?> _carbonyls = new("--carbonyls")
    {
        Description = "Carbonyl groups of a molecule that are to react. Default: the fewest listed.",
        HelpName = "NUMBER",
    };

    private readonly Option<double?> _excess = OptionOf.Number(
        "--excess", "%", FormattableString.Invariant(
            $"Reagent beyond what reacts, {100 * PreparationScale.LeastExcess} to {100 * PreparationScale.MostExcess} %. Default: {100 * PreparationScale.UsualExcess} %."));

    private readonly Option<double?> _reagent = OptionOf.Number("--reagent-mg", "MG", "What was weighed of the reagent, in place of an excess.");

    private readonly Option<string?> _form = new("--reagent-form")
    {
        Description = "The form it was weighed in, such as semicarbazide-hydrochloride. Default: the reagent itself.",
        HelpName = "FORM",
    };

    private readonly Option<double?> _product = OptionOf.Number("--product-mg", "MG", "The dry product, for its yield.");

    private readonly Option<int?> _portions = new("--portions")
    {
        Description = "How many tests and derivatives reagents are made up for. Default: 1.",
        HelpName = "NUMBER",
    };

    private readonly Option<int?> _version = new("--table-version")
    {
        Description = "Version of the table. Default: the current one.",
        HelpName = "NUMBER",
    };

    private PrepareCommand()
    {
    }

    public static Command Make(CommonOptions common)
    {
        var parts = new PrepareCommand();
        var command = new ExampledCommand(
            "prepare", "Work out how a derivative is made: amounts, recipes, yield, what to look out for, cautions.")
        {
            Examples =
            [
                ("a derivative of a compound", "derivid prepare semicarbazone --parent acetophenone --mg 100"),
                ("of an unknown, for three people", "derivid prepare '2,4-DNPH' --molar-mass 90-130 --mg 200 --portions 3"),
                ("the yield of what came",
                    "derivid prepare semicarbazone --parent acetophenone --mg 100 --reagent-mg 100 --reagent-form semicarbazide-hydrochloride --product-mg 96"),
            ],
        };
        command.Add(parts._kind);
        foreach (var option in new Option[]
        {
            parts._milligrams, parts._parent, parts._molarMass, parts._density, parts._carbonyls, parts._excess, parts._reagent, parts._form,
            parts._product, parts._portions, parts._version,
        })
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            session.Show(await session.Client.Practice.PrepareAsync(parts.Request(parsed), token), PreparationView.Write);
            return ExitCode.Done;
        });
        return command;
    }

    private PreparationRequest Request(ParseResult parsed) => new()
    {
        TableVersion = parsed.GetValue(_version),
        Parent = parsed.GetValue(_parent),
        MolarMass = parsed.GetValue(_molarMass),
        Kind = parsed.GetRequiredValue(_kind),
        Milligrams = parsed.GetValue(_milligrams)!.Value,
        GramsPerMillilitre = parsed.GetValue(_density),
        CarbonylsCondensed = parsed.GetValue(_carbonyls),
        ReagentExcess = parsed.GetValue(_excess) / 100,
        ReagentMilligrams = parsed.GetValue(_reagent),
        ReagentForm = parsed.GetValue(_form),
        ProductMilligrams = parsed.GetValue(_product),
        Portions = parsed.GetValue(_portions),
    };

    private static Option<double?> Required(string name, string unit, string description)
    {
        var option = OptionOf.Number(name, unit, description);
        option.Required = true;
        return option;
    }

    private static MolarMassSpan Span(string text)
    {
        var ends = text.Split(['-', '–'], StringSplitOptions.TrimEntries);
        return ends.Length is 1 or 2
            ? new MolarMassSpan { Lowest = OptionOf.Number(ends[0]), Highest = OptionOf.Number(ends[^1]) }
            : throw new FormatException($"\"{text}\" is no span; write it like 90-130.");
    }
}
