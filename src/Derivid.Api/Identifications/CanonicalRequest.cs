using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;

namespace Derivid.Api.Identifications;

/// <summary>
/// Puts a request into the one form that all requests saying the same share: keys for names, figures for texts,
/// defaults written out, lists in order and without repeats.
/// </summary>
/// <remarks>
/// The form is itself a request, so a stored one can be replayed. A test not done and a list without entries are left
/// out: they say nothing.
/// </remarks>
/// <param name="table">The version of the table the names are looked up in.</param>
/// <param name="place">Where the request stands in the body, a JSON Pointer.</param>
/// <param name="errors">Takes the faults.</param>
public sealed class CanonicalRequest(ServedTable table, string place, FieldErrors errors)
{
    private static readonly WireContext Wire = WireJson.Context;

    /// <summary>Puts a request into form.</summary>
    /// <param name="request">The request; its shape has been checked.</param>
    /// <returns>The form. It means something only while no faults were noted.</returns>
    public IdentificationRequest Of(IdentificationRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        return new IdentificationRequest
        {
            Derivatives = InOrder(request.Derivatives, Derivative, d => JsonSerializer.Serialize(d, Wire.DerivativeObserved)),
            SpotTests = SpotTests(request.SpotTests),
            State = request.State,
            BoilingPoint = request.BoilingPoint is { } boiling ? BoilingPoint(boiling) : null,
            MeltingPoint = Range(request.MeltingPoint, place + "/meltingPoint"),
            MolarMass = request.MolarMass,
            Elements = Elements(request.Elements),
            Thermometer = Thermometer(request.Thermometer),
            WindowCelsius = request.WindowCelsius ?? Observation.DefaultWindowCelsius,
            Prior = request.Prior is { } prior ? Prior(prior) : null,
            TableVersion = table.Table.Version,
            MaximumCandidates = request.MaximumCandidates ?? IdentificationEngine.DefaultCandidates,
        };
    }

    private DerivativeObserved Derivative(DerivativeObserved derivative, int index)
    {
        var here = JsonPointer.Item(place + "/derivatives", index);
        CheckCrystals(derivative, here);
        return new DerivativeObserved
        {
            Kind = Key(table.Kinds, derivative.Kind, here + "/kind"),
            Precipitate = derivative.MeltingRange is null ? derivative.Precipitate : null,
            MeltingRange = Range(derivative.MeltingRange, here + "/meltingRange"),
            Preparation = derivative.Preparation ?? Preparation.Unstated,
            Colour = derivative.Colour is { } colour ? Key(table.Colours, colour, here + "/colour") : null,
        };
    }

    // Of crystals that did not come nothing can be said.
    private void CheckCrystals(DerivativeObserved derivative, string here)
    {
        if (derivative.Precipitate is not (Precipitate.Oil or Precipitate.None))
        {
            return;
        }

        var came = Word(derivative.Precipitate.Value);
        var contradicted = new[]
        {
            (Field: "meltingRange", IsGiven: derivative.MeltingRange is not null),
            (Field: "colour", IsGiven: derivative.Colour is not null),
            (Field: "preparation", IsGiven: derivative.Preparation is Preparation.Crude or Preparation.Recrystallised),
        };
        foreach (var (field, _) in contradicted.Where(item => item.IsGiven))
        {
            errors.Add(
                $"{here}/{field}",
                $"precipitate is \"{came}\", and of crystals that did not come there is no {field}: leave it out, or set precipitate to \"crystals\".");
        }
    }

    private List<SpotTestObserved>? SpotTests(IReadOnlyList<SpotTestObserved>? tests)
    {
        var inOrder = InOrder(
            tests,
            (t, i) => t with { Test = Key(table.Tests, t.Test, JsonPointer.Item(place + "/spotTests", i) + "/test") },
            t => JsonSerializer.Serialize(t, Wire.SpotTestObserved));
        foreach (var repeated in (inOrder ?? []).GroupBy(t => t.Test).Where(g => g.Count() > 1))
        {
            errors.Add(
                place + "/spotTests",
                $"The test {repeated.Key} is given with different outcomes: "
                + string.Join(", ", repeated.Select(t => Word(t.Outcome)))
                + ". Repeat it and send one outcome, or \"doubtful\".",
                ProblemTypes.ContradictoryReadings);
        }

        inOrder?.RemoveAll(t => t.Outcome == SpotTestOutcome.NotDone);
        return inOrder is { Count: > 0 } ? inOrder : null;
    }

    private BoilingPointObserved BoilingPoint(BoilingPointObserved boiling) => new()
    {
        Range = Range(boiling.Range, place + "/boilingPoint/range", boils: true)!,
        PressureKilopascals = boiling.PressureKilopascals ?? BoilingPointReading.StandardPressureKilopascals,
    };

    private ElementsObserved? Elements(ElementsObserved? elements)
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

        return present.Count + absent.Count == 0
            ? null
            : new ElementsObserved
            {
                Present = present.Count > 0 ? present : null,
                Absent = absent.Count > 0 ? absent : null,
            };
    }

    private ThermometerDescribed? Thermometer(ThermometerDescribed? thermometer)
    {
        var standards = InOrder(
            thermometer?.Standards,
            (s, i) => s with
            {
                Standard = Key(
                    table.Standards, s.Standard, JsonPointer.Item(place + "/thermometer/standards", i) + "/standard"),
            },
            s => JsonSerializer.Serialize(s, Wire.StandardMelted));
        foreach (var repeated in (standards ?? []).GroupBy(s => s.Standard).Where(g => g.Count() > 1))
        {
            errors.Add(
                place + "/thermometer/standards",
                $"The standard {repeated.Key} is given with different readings. Melt it again and send one.",
                ProblemTypes.ContradictoryReadings);
        }

        return standards is null && thermometer?.Stem is null
            ? null
            : new ThermometerDescribed { Standards = standards, Stem = thermometer?.Stem };
    }

    private PriorDescribed? Prior(PriorDescribed prior)
    {
        var here = place + "/prior";
        if (prior is { ShelfList: not null, Weights: not null })
        {
            errors.Add(here, "Holds both shelfList and weights; one of them is allowed.");
        }

        var shelf = InOrder(
            prior.ShelfList, (name, i) => Key(table.Parents, name, JsonPointer.Item(here + "/shelfList", i)), name => name);
        var weights = prior.Weights is { } given ? Weights(given, here + "/weights") : null;
        return shelf is null && weights is null && prior.NoneOfThese is null
            ? null
            : new PriorDescribed { ShelfList = shelf, Weights = weights, NoneOfThese = prior.NoneOfThese };
    }

    private SortedDictionary<string, double> Weights(IReadOnlyDictionary<string, double> given, string here)
    {
        var weights = new SortedDictionary<string, double>(StringComparer.Ordinal);
        foreach (var (name, weight) in given)
        {
            var at = JsonPointer.Property(here, name);
            var key = Key(table.Parents, name, at);
            if (!(weight is >= 1e-6 and <= 1e6))
            {
                errors.Add(at, "The weight is out of bounds; a number from 0.000001 to 1000000 is allowed.");
            }
            else if (!weights.TryAdd(key, weight))
            {
                errors.Add(at, $"{Text.Quoted(name)} names {key}, which has a weight already; one is allowed.");
            }
        }

        return weights;
    }

    private RangeObserved? Range(RangeObserved? range, string here, bool boils = false)
    {
        if (range?.Text is { } text)
        {
            var read = MeltingRangeText.Parse(text, boils);
            if (read.Range is { } found)
            {
                return InFigures(found.OnsetCelsius, found.ClearPointCelsius, found.Decomposes);
            }

            errors.Add(
                here,
                $"{Text.Quoted(text)}: {read.Problem}",
                read.Fault == MeltingRangeFault.Reversed ? ProblemTypes.MeltingRangeReversed : ProblemTypes.InvalidRequest);
        }
        else if (range?.Figures is { } figures)
        {
            if (figures.OnsetCelsius > figures.ClearPointCelsius)
            {
                errors.Add(
                    here,
                    FormattableString.Invariant(
                        $"From {figures.OnsetCelsius} to {figures.ClearPointCelsius} °C; the clear point cannot lie below the onset."),
                    ProblemTypes.MeltingRangeReversed);
            }

            return InFigures(figures.OnsetCelsius, figures.ClearPointCelsius, figures.Decomposes ?? false);
        }

        return null;
    }

    private static RangeObserved InFigures(double onset, double clearPoint, bool decomposes) => new(
        null,
        new RangeInFigures
        {
            OnsetCelsius = onset,
            ClearPointCelsius = clearPoint,
            Decomposes = decomposes ? true : null,
        });

    private static string Word<T>(T value)
        where T : struct, Enum => JsonNamingPolicy.CamelCase.ConvertName(value.ToString());

    private string Key(NameIndex names, string name, string here)
    {
        if (names.Find(name) is { } key)
        {
            return key;
        }

        errors.Add(here, names.Unknown(name));
        return name;
    }

    // Null for an empty list: it says no more than none.
    private static List<T>? InOrder<T>(IReadOnlyList<T>? items, Func<T, int, T> canonical, Func<T, string> sortedBy) =>
        items is { Count: > 0 }
            ? [.. items.Select(canonical).DistinctBy(sortedBy).OrderBy(sortedBy, StringComparer.Ordinal)]
            : null;
}
