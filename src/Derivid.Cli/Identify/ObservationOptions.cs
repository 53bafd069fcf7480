using System.CommandLine;
using Derivid.Contracts;
using Derivid.Core.Melting;
using Derivid.Core.Observations;

namespace Derivid.Cli.Identify;

/// <summary>The options that say what was observed.</summary>
internal sealed class ObservationOptions
{
    private readonly Option<DerivativeObserved[]> _derivatives = OptionOf.Many(
        "--derivative",
        "KIND=RANGE[;COLOUR[;PREPARATION[;TIME]]]",
        "A derivative made, such as '2,4-DNPH=125-127 °C; yellow; recrystallised; seconds' (or minutes, hours until it came), or what came: 'semicarbazone=none', '=oil'.",
        ObservationText.Derivative);

    private readonly Option<SpotTestObserved[]> _tests = OptionOf.Many(
        "--test",
        "TEST=OUTCOME",
        "A spot test: positive (+), negative (-), doubtful (?).",
        ObservationText.SpotTest);

    private readonly Option<PhysicalState?> _state = new("--state")
    {
        Description = "What the unknown is at room temperature: liquid or solid.",
        HelpName = "STATE",
    };

    private readonly Option<string?> _boilingPoint = new("--boiling-point")
    {
        Description = "Boiling range of the unknown.",
        HelpName = "RANGE",
    };

    private readonly Option<double?> _pressure = OptionOf.Number(
        "--pressure", "KPA",
        FormattableString.Invariant(
            $"Pressure at the boiling point, {BoilingPointReading.LowestKilopascals} to {BoilingPointReading.HighestKilopascals} kPa. Default: 101.325 kPa."));

    private readonly Option<double?> _altitude = OptionOf.Number(
        "--altitude", "M", "Height above sea level, in place of the pressure at the boiling point.");

    private readonly Option<string?> _meltingPoint = new("--melting-point")
    {
        Description = "Melting range of the unknown itself.",
        HelpName = "RANGE",
    };

    private readonly Option<MixedMeltingObserved[]> _mixed = OptionOf.Many(
        "--mixed",
        "KIND=PARTNER;RANGE[;AUTHENTIC]",
        "A mixture with an authentic sample, such as 'semicarbazone=propanone; 186-188 °C; 187-189 °C', the last range that of the authentic sample alone; 'itself=' for the unknown as it is.",
        ObservationText.MixedMelting);

    private readonly Option<double?> _molarMass = OptionOf.Number("--molar-mass", "G/MOL", "Molar mass of the unknown.");

    private readonly Option<double?> _molarMassError = OptionOf.Number(
        "--molar-mass-uncertainty", "G/MOL", "One standard deviation of it.");

    private readonly Option<DetectableElement[]> _present = OptionOf.Many(
        "--element", "ELEMENT", "An element found, such as nitrogen.", OptionOf.Word<DetectableElement>);

    private readonly Option<DetectableElement[]> _absent = OptionOf.Many(
        "--no-element", "ELEMENT", "An element looked for and not found.", OptionOf.Word<DetectableElement>);

    private readonly Option<StandardMelted[]> _standards = OptionOf.Many(
        "--standard",
        "STANDARD=°C",
        "A melting-point standard and what your thermometer showed, such as benzoic-acid=120.9.",
        ObservationText.Standard);

    private readonly Option<string?> _thermometer = new("--thermometer")
    {
        Description = "A registered thermometer, by its id; see derivid thermometers list.",
        HelpName = "ID",
    };

    private readonly Option<int?> _checkedDaysAgo = new("--checked-days-ago")
    {
        Description = "How long ago the standards were melted. Default: lately.",
        HelpName = "DAYS",
    };

    private readonly Option<ThreadLiquid?> _stemLiquid = new("--stem-liquid")
    {
        Description = "What the thread is of: mercury, alcohol, petroleum or gallium. Default: mercury, or as registered.",
        HelpName = "LIQUID",
    };

    private readonly Option<double?> _stemExposed = OptionOf.Number(
        "--stem-exposed", "°C", "Length of thread outside the bath.");

    private readonly Option<double?> _stemMean = OptionOf.Number(
        "--stem-temperature", "°C", "Mean temperature of that thread.");

    private readonly Option<double?> _window = OptionOf.Number(
        "--window", "°C", "Half width of the classical tolerance window. Default: 5.");

    private readonly Option<string[]> _shelf = new("--shelf")
    {
        Description = "The only compounds it may be.",
        HelpName = "COMPOUND...",
        AllowMultipleArgumentsPerToken = true,
    };

    private readonly Option<bool> _uniform = new("--uniform")
    {
        Description = "Take all compounds alike beforehand, however common they are.",
    };

    private readonly Option<double?> _hazardMinutes = OptionOf.Number(
        "--hazard-minutes", "MIN", FormattableString.Invariant(
            $"What a class of hazard counts for among the next steps, as minutes, 0 to {Observation.MostHazardMinutes}. Default: {Observation.DefaultHazardMinutes}."));

    private Option[] All =>
    [
        _derivatives, _tests, _state, _boilingPoint, _pressure, _altitude, _meltingPoint, _mixed, _molarMass, _molarMassError, _present, _absent,
        _thermometer, _standards, _checkedDaysAgo, _stemExposed, _stemMean, _stemLiquid, _window, _shelf, _uniform, _hazardMinutes,
    ];

    public void AddTo(Command command)
    {
        foreach (var option in All)
        {
            command.Add(option);
        }
    }

    /// <summary>Whether anything was said with them.</summary>
    public bool AreGiven(ParseResult parsed) => All.Any(option => parsed.GetResult(option) is { Implicit: false });

    /// <exception cref="UsageException">One half of a pair is missing.</exception>
    public IdentificationRequest Read(ParseResult parsed) => new()
    {
        Derivatives = parsed.GetValue(_derivatives),
        SpotTests = parsed.GetValue(_tests),
        State = parsed.GetValue(_state),
        BoilingPoint = BoilingPoint(parsed),
        MeltingPoint = parsed.GetValue(_meltingPoint) is { } range ? (RangeObserved)range : null,
        MixedMeltings = parsed.GetValue(_mixed),
        MolarMass = Pair(parsed, _molarMass, _molarMassError) is var (mass, error)
            ? new MolarMassObserved { GramsPerMole = mass, UncertaintyGramsPerMole = error }
            : null,
        Elements = parsed.GetValue(_present) is var present && parsed.GetValue(_absent) is var absent
            && (present is not null || absent is not null)
            ? new ElementsObserved { Present = present, Absent = absent }
            : null,
        Thermometer = Thermometer(parsed),
        WindowCelsius = parsed.GetValue(_window),
        HazardMinutes = parsed.GetValue(_hazardMinutes),
        Prior = Prior(parsed),
    };

    private PriorDescribed? Prior(ParseResult parsed)
    {
        var (shelf, isUniform) = (parsed.GetValue(_shelf) is { Length: > 0 } given ? given : null, parsed.GetValue(_uniform));
        return shelf is null && !isUniform
            ? null
            : new PriorDescribed { ShelfList = shelf, IsUniform = isUniform ? true : null };
    }

    private BoilingPointObserved? BoilingPoint(ParseResult parsed)
    {
        var (pressure, altitude) = (parsed.GetValue(_pressure), parsed.GetValue(_altitude));
        return parsed.GetValue(_boilingPoint) is { } range
            ? new BoilingPointObserved { Range = range, PressureKilopascals = pressure, AltitudeMetres = altitude }
            : pressure is null && altitude is null
                ? null
                : throw new UsageException($"{(pressure is null ? _altitude : _pressure).Name} means nothing without --boiling-point.");
    }

    private ThermometerDescribed? Thermometer(ParseResult parsed)
    {
        var (id, standards, days, liquid) =
            (parsed.GetValue(_thermometer), parsed.GetValue(_standards) is { Length: > 0 } melted ? melted : null, parsed.GetValue(_checkedDaysAgo), parsed.GetValue(_stemLiquid));
        StemExposed? stem = Pair(parsed, _stemExposed, _stemMean) is var (exposed, mean)
            ? new StemExposed { ExposedCelsius = exposed, StemCelsius = mean, Liquid = liquid }
            : liquid is null ? null : throw new UsageException("--stem-liquid means nothing without --stem-exposed.");
        return id is null && standards is null && days is null && stem is null
            ? null
            : new ThermometerDescribed { Id = id, Standards = standards, DaysSinceChecked = days, Stem = stem };
    }

    private static (double First, double Second)? Pair(
        ParseResult parsed, Option<double?> first, Option<double?> second) =>
        (parsed.GetValue(first), parsed.GetValue(second)) switch
        {
            ({ } one, { } other) => (one, other),
            (null, null) => null,
            _ => throw new UsageException($"Give both of {first.Name} and {second.Name}, or neither."),
        };
}
