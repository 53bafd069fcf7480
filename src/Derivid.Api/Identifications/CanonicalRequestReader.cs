using System.Globalization;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;

namespace Derivid.Api.Identifications;

/// <summary>Reads a request once, into form and observation.</summary>
/// <param name="table">The version of the table the names are looked up in.</param>
/// <param name="place">Where the request stands in the body, a JSON Pointer.</param>
/// <param name="errors">Takes the faults.</param>
internal sealed class CanonicalRequestReader(ServedTable table, string place, FieldErrors errors)
{
    private static readonly WireContext Wire = WireJson.Context;

    /// <summary>Reads it.</summary>
    /// <param name="request">The request; its shape has been checked.</param>
    /// <returns>The request in form. It means something only while no faults were noted.</returns>
    public CanonicalRequest Read(IdentificationRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        var derivatives = InOrder(request.Derivatives, Derivative, d => JsonSerializer.Serialize(CanonicalForm.Of(d), Wire.DerivativeObserved));
        var tests = SpotTests(request.SpotTests);
        var boiling = BoilingPoint(request.BoilingPoint);
        var melting = Range(request.MeltingPoint, place + "/meltingPoint");
        var mixed = MixedMeltings(request.MixedMeltings);
        var mass = MolarMass(request.MolarMass);
        var elements = Elements(request.Elements);
        var thermometer = Thermometer(request.Thermometer);
        var window = Rounded(request.WindowCelsius) ?? Observation.DefaultWindowCelsius;
        var hazard = Rounded(request.HazardMinutes) ?? Observation.DefaultHazardMinutes;
        var prior = Prior(request.Prior);
        var form = new IdentificationRequest
        {
            Derivatives = derivatives is [] ? null : [.. derivatives.Select(CanonicalForm.Of)],
            SpotTests = tests is [] ? null : [.. tests.Select(CanonicalForm.Of)],
            State = request.State,
            BoilingPoint = boiling is null ? null : CanonicalForm.Of(boiling),
            MeltingPoint = CanonicalForm.Of(melting),
            MixedMeltings = mixed is [] ? null : [.. mixed.Select(CanonicalForm.Of)],
            MolarMass = mass is null ? null : CanonicalForm.Of(mass),
            Elements = CanonicalForm.Of(elements),
            Thermometer = thermometer,
            WindowCelsius = window,
            // Came later than the forms that are kept, so its default is left out of them.
            HazardMinutes = hazard == Observation.DefaultHazardMinutes ? null : hazard,
            Prior = prior,
            TableVersion = table.Table.Version,
            MaximumCandidates = request.MaximumCandidates ?? IdentificationEngine.DefaultCandidates,
        };
        return new CanonicalRequest(form, new Observation
        {
            Derivatives = derivatives,
            SpotTests = tests,
            State = request.State,
            BoilingPoint = boiling,
            MeltingPoint = melting,
            MixedMeltings = mixed,
            MolarMass = mass,
            Elements = elements,
            Thermometer = Correction(thermometer),
            WindowCelsius = window,
            HazardMinutes = hazard,
            Prior = Choice(prior),
        });
    }

    /// <summary>Reads what is told of a thermometer.</summary>
    /// <param name="thermometer">As sent. Missing: null, nothing.</param>
    /// <returns>It means something only while no faults were noted.</returns>
    public ThermometerCorrection CorrectionOf(ThermometerDescribed? thermometer) => Correction(Thermometer(thermometer));

    private DerivativeReading Derivative(DerivativeObserved derivative, int index)
    {
        var here = JsonPointer.Item(place + "/derivatives", index);
        CheckCrystals(derivative, here);
        return new DerivativeReading(
            Key(table.Kinds, derivative.Kind, here + "/kind"),
            Range(derivative.MeltingRange, here + "/meltingRange"),
            derivative.Preparation ?? Preparation.Unstated,
            derivative.Colour is { } colour ? Key(table.Colours, colour, here + "/colour") : null,
            derivative.MeltingRange is null && derivative.Time is null ? derivative.Precipitate : null,
            derivative.Time);
    }

    // Of crystals that did not come nothing can be said.
    private void CheckCrystals(DerivativeObserved derivative, string here)
    {
        if (derivative.Precipitate is not (Precipitate.Oil or Precipitate.None))
        {
            return;
        }

        var came = WireJson.Word(derivative.Precipitate.Value);
        var contradicted = new[]
        {
            (Field: "meltingRange", IsGiven: derivative.MeltingRange is not null),
            (Field: "colour", IsGiven: derivative.Colour is not null),
            (Field: "time", IsGiven: derivative.Time is not null),
            (Field: "preparation", IsGiven: derivative.Preparation is Preparation.Crude or Preparation.Recrystallised),
        };
        foreach (var (field, _) in contradicted.Where(item => item.IsGiven))
        {
            errors.Add(
                $"{here}/{field}",
                $"precipitate is \"{came}\", and of crystals that did not come there is no {field}: leave it out, or set precipitate to \"crystals\".");
        }
    }

    private List<SpotTestReading> SpotTests(IReadOnlyList<SpotTestObserved>? tests)
    {
        var readings = InOrder(
            tests,
            (t, i) => new SpotTestReading(
                Key(table.Tests, t.Test, JsonPointer.Item(place + "/spotTests", i) + "/test"), t.Outcome),
            t => JsonSerializer.Serialize(CanonicalForm.Of(t), Wire.SpotTestObserved));
        foreach (var repeated in readings.GroupBy(t => t.TestKey).Where(g => g.Count() > 1))
        {
            errors.Add(
                place + "/spotTests",
                $"The test {repeated.Key} is given with different outcomes: "
                + string.Join(", ", repeated.Select(t => WireJson.Word(t.Outcome)))
                + ". Repeat it and send one outcome, or \"doubtful\".",
                ProblemTypes.ContradictoryReadings);
        }

        readings.RemoveAll(t => t.Outcome == SpotTestOutcome.NotDone);
        return readings;
    }

    private BoilingPointReading? BoilingPoint(BoilingPointObserved? boiling)
    {
        if (boiling is { PressureKilopascals: not null, AltitudeMetres: not null })
        {
            errors.Add(
                place + "/boilingPoint/altitudeMetres", "Is given beside pressureKilopascals, which says more; leave it out.");
        }

        return Range(boiling?.Range, place + "/boilingPoint/range", boils: true) is { } range
            ? new BoilingPointReading(range, Rounded(boiling!.PressureKilopascals ?? PressureAt(boiling.AltitudeMetres)))
            : null;
    }

    private List<MixedMeltingReading> MixedMeltings(IReadOnlyList<MixedMeltingObserved>? mixtures)
    {
        var readings = InOrder(
            mixtures,
            (mixture, i) =>
            {
                var here = JsonPointer.Item(place + "/mixedMeltings", i);
                var reading = new MixedMeltingReading(
                    mixture.Kind is { } kind ? Key(table.Kinds, kind, here + "/kind") : null,
                    Key(table.Parents, mixture.Partner, here + "/partner"),
                    Range(mixture.Range, here + "/range") ?? default,
                    Range(mixture.AuthenticRange, here + "/authenticRange"));
                CheckAuthentic(reading, here);
                return reading;
            },
            mixture => JsonSerializer.Serialize(CanonicalForm.Of(mixture), Wire.MixedMeltingObserved));
        foreach (var repeated in readings.GroupBy(mixture => (mixture.KindKey, mixture.PartnerKey)).Where(g => g.Count() > 1))
        {
            errors.Add(
                place + "/mixedMeltings",
                $"The mixture with authentic {(repeated.Key.KindKey is { } kind ? $"{kind} of " : "")}{repeated.Key.PartnerKey} is given {repeated.Count()} times, with different ranges. Send the one melted most carefully.",
                ProblemTypes.ContradictoryReadings);
        }

        return readings;
    }

    // Of what is not formed, or is a liquid, there are no crystals to mix. Names that are not known are noted already.
    private void CheckAuthentic(MixedMeltingReading reading, string here)
    {
        var snapshot = table.Snapshot;
        if (!snapshot.TryFindParent(reading.PartnerKey, out var partner))
        {
            return;
        }

        var name = snapshot.Parents[partner].Name;
        if (reading.KindKey is { } key)
        {
            if (snapshot.Kinds.FirstOrDefault(kind => kind.Kind.Key == key) is { } kind && !kind.Listed.CanHave(partner))
            {
                errors.Add(here + "/kind", $"{Text.Quoted(key)}: {name} forms no {kind.Kind.Name}, so there is no authentic sample of it; a kind that {name} forms is allowed.");
            }
        }
        else if (snapshot.MeltingPoints.Of(partner) is { Count: > 0 } melts && melts.All(melt => melt.HighCelsius < TableSnapshot.RoomCelsius))
        {
            errors.Add(here + "/partner", $"{Text.Quoted(reading.PartnerKey)} is a liquid at room temperature, so it can't be mixed and melted; name the kind of the derivative, or a partner that is a solid.");
        }
    }

    private static double PressureAt(double? metres) =>
        metres is { } altitude ? StandardAtmosphere.KilopascalsAt(altitude) : BoilingPointReading.StandardPressureKilopascals;

    private static MolarMassReading? MolarMass(MolarMassObserved? mass) => mass is null
        ? null
        : new MolarMassReading(Rounded(mass.GramsPerMole), Rounded(mass.UncertaintyGramsPerMole));

    private List<ElementReading> Elements(ElementsObserved? elements)
    {
        var present = (elements?.Present ?? []).Distinct().Order().ToList();
        var absent = (elements?.Absent ?? []).Distinct().Order().ToList();
        foreach (var both in present.Intersect(absent))
        {
            errors.Add(
                place + "/elements",
                $"{both} is given as present and as absent. Repeat the test and name it once.",
                ProblemTypes.ContradictoryReadings);
        }

        return [.. present.Select(e => new ElementReading(e, true)), .. absent.Select(e => new ElementReading(e, false))];
    }

    private ThermometerDescribed? Thermometer(ThermometerDescribed? thermometer)
    {
        var standards = InOrder(
            thermometer?.Standards,
            (s, i) => new StandardMelted
            {
                Standard = Key(
                    table.Standards, s.Standard, JsonPointer.Item(place + "/thermometer/standards", i) + "/standard"),
                ReadCelsius = Rounded(s.ReadCelsius),
            },
            s => JsonSerializer.Serialize(s, Wire.StandardMelted));
        foreach (var repeated in standards.GroupBy(s => s.Standard).Where(g => g.Count() > 1))
        {
            errors.Add(
                place + "/thermometer/standards",
                $"The standard {repeated.Key} is given with different readings. Melt it again and send one.",
                ProblemTypes.ContradictoryReadings);
        }

        var stem = thermometer?.Stem is { } exposed
            ? new StemExposed
            {
                ExposedCelsius = Rounded(exposed.ExposedCelsius),
                StemCelsius = Rounded(exposed.StemCelsius),
                // Came later than the forms that are kept, so its default is left out of them; but where a thermometer is named it
                // would stand for the one that is registered.
                Liquid = exposed.Liquid == ThreadLiquid.Mercury && thermometer.Id is null ? null : exposed.Liquid,
            }
            : null;
        var days = thermometer?.DaysSinceChecked;
        if (days is not null && standards is [])
        {
            errors.Add(place + "/thermometer/daysSinceChecked", "No standards are given that were melted then; send them, or leave it out.");
        }

        return standards is [] && stem is null && thermometer?.Id is null
            ? null
            : new ThermometerDescribed
            {
                Id = thermometer!.Id,
                // None of a named one are told as none, so that those melted later don't come in.
                Standards = standards is [] && thermometer.Id is null ? null : standards,
                DaysSinceChecked = days == 0 ? null : days,
                Stem = stem,
            };
    }

    // Only of standards that are known and agree can it be said whether a thermometer reads like this.
    private ThermometerCorrection Correction(ThermometerDescribed? thermometer)
    {
        if (thermometer is null || errors.Count > 0)
        {
            return ThermometerCorrection.None;
        }

        var stem = thermometer.Stem is { } exposed
            ? new StemCorrection(exposed.ExposedCelsius, exposed.StemCelsius, exposed.Liquid ?? ThreadLiquid.Mercury)
            : null;
        try
        {
            return new ThermometerCorrection(
                (thermometer.Standards ?? []).Select(s =>
                    new CalibrationPoint(s.ReadCelsius, table.StandardByKey[s.Standard])),
                stem,
                thermometer.DaysSinceChecked ?? 0);
        }
        catch (ImplausibleThermometerException fault)
        {
            errors.Add(place + "/thermometer/standards", fault.Message, ProblemTypes.ThermometerImplausible);
            return ThermometerCorrection.None;
        }
    }

    private PriorDescribed? Prior(PriorDescribed? prior)
    {
        if (prior is null)
        {
            return null;
        }

        var here = place + "/prior";
        if (prior is { ShelfList: not null, Weights: not null })
        {
            errors.Add(here, "Holds both shelfList and weights; one of them is allowed.");
        }

        var isUniform = prior.IsUniform == true;
        if (isUniform && (prior.ShelfList is not null || prior.Weights is not null))
        {
            errors.Add(
                here + "/isUniform", "Is true beside a shelfList or weights, which say more; leave it out, or leave them out.");
        }

        var shelf = InOrder(
            prior.ShelfList, (name, i) => Key(table.Parents, name, JsonPointer.Item(here + "/shelfList", i)), name => name);
        var weights = prior.Weights is { } given ? Weights(given, here + "/weights") : null;
        return shelf is [] && weights is null && prior.NoneOfThese is null && !isUniform
            ? null
            : new PriorDescribed
            {
                ShelfList = shelf is [] ? null : shelf,
                Weights = weights,
                IsUniform = isUniform ? true : null,
                NoneOfThese = Rounded(prior.NoneOfThese),
            };
    }

    private SortedDictionary<string, double> Weights(IReadOnlyDictionary<string, double> given, string here)
    {
        var weights = new SortedDictionary<string, double>(StringComparer.Ordinal);
        foreach (var (name, weight) in given)
        {
            var at = JsonPointer.Property(here, name);
            var key = Key(table.Parents, name, at);
            if (!(weight is >= PriorChoice.LeastWeight and <= PriorChoice.LargestWeight))
            {
                errors.Add(at, string.Create(
                    CultureInfo.InvariantCulture,
                    $"The weight is out of bounds; a number from {PriorChoice.LeastWeight:0.######} to {PriorChoice.LargestWeight:0} is allowed."));
            }
            else if (!weights.TryAdd(key, Rounded(weight)))
            {
                errors.Add(at, $"{Text.Quoted(name)} names {key}, which has a weight already; one is allowed.");
            }
        }

        return weights;
    }

    private static PriorChoice Choice(PriorDescribed? prior) => prior switch
    {
        null => PriorChoice.ByCommonness,
        { ShelfList: { } shelf } => PriorChoice.OfShelf(shelf) with { NoneOfThese = prior.NoneOfThese },
        _ => new PriorChoice
        {
            IsUniform = prior.IsUniform == true, Weights = prior.Weights, NoneOfThese = prior.NoneOfThese,
        },
    };

    /// <summary>Reads a range.</summary>
    /// <param name="range">As sent. Missing: null, none.</param>
    /// <param name="here">Where it stands in the body, a JSON Pointer.</param>
    /// <param name="boils">Whether it is one of boiling.</param>
    /// <returns>Missing: null, there is none, or it can't be read and that is noted.</returns>
    public MeltingRange? Range(RangeObserved? range, string here, bool boils = false)
    {
        if (range?.Text is { } text)
        {
            var read = MeltingRangeText.Parse(text, boils);
            if (read.Range is null)
            {
                errors.Add(
                    here,
                    $"{Text.Quoted(text)}: {read.Problem}",
                    read.Fault == MeltingRangeFault.Reversed ? ProblemTypes.MeltingRangeReversed : ProblemTypes.InvalidRequest);
            }

            return read.Range is { } found
                ? new MeltingRange(Rounded(found.OnsetCelsius), Rounded(found.ClearPointCelsius), found.Decomposes)
                : null;
        }

        if (range?.Figures is not { } figures)
        {
            return null;
        }

        if (figures.OnsetCelsius > figures.ClearPointCelsius)
        {
            errors.Add(
                here,
                FormattableString.Invariant(
                    $"From {figures.OnsetCelsius} to {figures.ClearPointCelsius} °C; the clear point cannot lie below the onset."),
                ProblemTypes.MeltingRangeReversed);
            return null;
        }

        return new MeltingRange(
            Rounded(figures.OnsetCelsius), Rounded(figures.ClearPointCelsius), figures.Decomposes ?? false);
    }

    private string Key(NameIndex names, string name, string here)
    {
        if (names.Find(name) is { } key)
        {
            return key;
        }

        errors.Add(here, names.Unknown(name));
        return name;
    }

    private static List<TReading> InOrder<T, TReading>(
        IReadOnlyList<T>? items, Func<T, int, TReading> read, Func<TReading, string> sortedBy)
    {
        List<TReading> readings = [.. (items ?? []).Select(read)];
        return readings.Count < 2
            ? readings
            : [.. readings
                .Select(reading => (Key: sortedBy(reading), Reading: reading))
                .DistinctBy(keyed => keyed.Key)
                .OrderBy(keyed => keyed.Key, StringComparer.Ordinal)
                .Select(keyed => keyed.Reading)];
    }

    private static double Rounded(double value) => RoundedNumberConverter.Rounded(value);

    private static double? Rounded(double? value) => value is { } figure ? Rounded(figure) : null;
}
