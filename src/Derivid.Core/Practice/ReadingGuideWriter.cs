using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Structures;

namespace Derivid.Core.Practice;

/// <summary>Puts a <see cref="ReadingGuide"/> together.</summary>
internal sealed class ReadingGuideWriter
{
    private const string Unknown = "the unknown";

    private static readonly string[] WaldenAndEntropies = ["crc-enthalpies-of-fusion", "open-notebook-melting-points", "walden-rule-kotobank"];

    private readonly ReadingOrder _order;
    private readonly TableSnapshot _snapshot;
    private readonly List<ListedRange> _listed;
    private readonly List<ListedForm> _forms;
    private readonly bool _decomposes;

    public ReadingGuideWriter(ReadingOrder order, TableSnapshot snapshot)
    {
        (_order, _snapshot) = (order, snapshot);
        _listed = Listed();
        _forms = Forms();
        _decomposes = order.Expected is { Decomposes: true } || order.Read is { Decomposes: true } || _listed.Exists(row => row.Decomposes);
    }

    private ReferenceTable Table => _snapshot.Table;

    public ReadingGuide Write()
    {
        var (expected, basis) = Expected();
        var plan = basis == ExpectedBasis.Usual
            ? HeatingPlan.Searching(expected, _decomposes, _order.ReachCelsius)
            : HeatingPlan.Expecting(expected, _decomposes, _order.ReachCelsius);
        var (purity, missing) = Purity();
        var advice = Advice(plan).ToList();
        string[] listedBy = basis == ExpectedBasis.Listed ? [.. Keys(_listed.Select(row => row.SourceKey))] : [];
        return new ReadingGuide
        {
            TableVersion = Table.Version,
            Title = Title(),
            KindKey = _order.Kind?.Key,
            ParentKey = _order.Parent?.Key,
            StandardKey = _order.Standard?.Key,
            ExpectedCelsius = expected,
            ExpectedBasis = basis,
            ExpectedSourceKeys = listedBy,
            Forms = _forms,
            Decomposes = _decomposes,
            Steps = plan.Steps,
            Minutes = plan.Minutes,
            Thermometer = Thermometer(expected.High),
            Advice = advice,
            Purity = purity,
            PurityMissing = missing,
            Recrystallisation = _order.Worth,
            Cautions = [.. Cautions().OrderByDescending(caution => caution.CanExplode)],
            Deferral = Caution.DeferralOfList,
            Sources = [.. Keys(advice.Select(row => row.SourceKey)
                .Concat(plan.Steps.SelectMany(step => step.SourceKeys))
                .Concat(listedBy)
                .Concat(purity?.SourceKeys ?? []))
                .Select(SourceOf).OfType<Source>()],
        };
    }

    private static IEnumerable<string> Keys(IEnumerable<string> keys) => keys.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal);

    // The table may cite what this build does not know, and the other way round.
    private Source? SourceOf(string key) => Bibliography.Find(key) ?? Table.Sources.FirstOrDefault(source => source.Key == key);

    private string Title() => _order switch
    {
        { Standard: { } standard } => standard.Name,
        { Kind: { } kind } => $"{_order.Parent?.Name ?? Unknown} {kind.Name}",
        _ => _order.Parent?.Name ?? Unknown,
    };

    // Of a derivative the fewest carbonyl groups listed, as preparations take them; the rest of what is listed all together.
    private List<ListedRange> Listed()
    {
        if (_order.Standard is { } standard)
        {
            return [new ListedRange(standard.ClearPointCelsius, standard.ClearPointCelsius, false, null, standard.SourceKey)];
        }

        if (_order.Parent is not { } parent)
        {
            return [];
        }

        if (_order.Kind is not { } kind)
        {
            return [.. Table.Constants
                .Where(row => row.ParentKey == parent.Key && row.Property == ParentProperty.MeltingPoint)
                .Select(row => new ListedRange(row.Low, row.High, false, null, row.SourceKey))];
        }

        var rows = Table.Derivatives.Where(row => row.ParentKey == parent.Key && row.KindKey == kind.Key).ToList();
        var fewest = rows.Select(row => row.CarbonylsCondensed).DefaultIfEmpty(1).Min();
        return [.. rows.Where(row => row.CarbonylsCondensed == fewest)
            .Select(row => new ListedRange(row.LowCelsius, row.HighCelsius, row.Decomposes, row.Form, row.SourceKey))];
    }

    // One form alone needs no word.
    private List<ListedForm> Forms()
    {
        var forms = _listed.GroupBy(row => row.Form)
            .Select(rows => new ListedForm(
                rows.Key,
                new AmountSpan(rows.Min(row => row.Low), rows.Max(row => row.High)),
                new AmountSpan(rows.Min(row => row.High), rows.Max(row => row.High))))
            .OrderBy(form => form.ClearPointCelsius.High).ToList();
        return _order.Expected is null && forms.Count > 1 ? forms : [];
    }

    private (AmountSpan Expected, ExpectedBasis Basis) Expected() =>
        _order.Expected is { } sent ? (new AmountSpan(sent.OnsetCelsius, sent.ClearPointCelsius), ExpectedBasis.Sent)
        : _listed.Count > 0 ? (new AmountSpan(_listed.Min(row => row.Low), _listed.Max(row => row.High)), ExpectedBasis.Listed)
        : _order.Kind is { } kind ? (new AmountSpan(kind.UsualLowCelsius, kind.UsualHighCelsius), ExpectedBasis.Usual)
        : (new AmountSpan(TableSnapshot.RoomCelsius, Table.Kinds.Max(any => any.UsualHighCelsius)), ExpectedBasis.Usual);

    private ThermometerThere? Thermometer(double celsius)
    {
        if (_order.Thermometer.IsNone)
        {
            return null;
        }

        var correction = _order.Thermometer.Apply(celsius) - celsius;
        var error = _snapshot.Settings.Care.ThermometerCelsius(_order.Thermometer.CheckAt(celsius));
        var shown = Figure.Degrees(Math.Abs(correction)) is var off && off == "0" ? "what it should" : $"{off} °C too {(correction < 0 ? "much" : "little")}";
        return new ThermometerThere(
            celsius, correction, error,
            $"Near {Figure.Degrees(celsius)} °C this thermometer shows {shown}, give or take {Figure.Degrees(error)} °C: the figures here are true temperatures.");
    }

    private IEnumerable<ReadingAdvice> Advice(HeatingPlan plan)
    {
        var cases = plan.Cases.ToHashSet();
        if (_order.Sublimes)
        {
            cases.Add(ReadingCase.Sublimes);
        }

        if (_order.Read is not null)
        {
            cases.Add(ReadingCase.Read);
        }

        return ReadingAdvice.All.Where(row => row.When == ReadingCase.Any ? plan.Steps.Count > 0 : cases.Contains(row.When));
    }

    private (PurityEstimate? Purity, string? Missing) Purity()
    {
        if (_order.Read is not { } read)
        {
            return (null, null);
        }

        if (_decomposes)
        {
            return (null, "It melts with decomposition: what it decomposes to lowers the melting point as it is heated, so the depression tells nothing of what was there before.");
        }

        var corrected = _order.Thermometer.Apply(read);
        var scatter = _order.Kind is null ? _snapshot.Settings.ParentMelting : _snapshot.Settings.DerivativeMelting;
        var error = _snapshot.Settings.Care.ReadingCelsius(
            scatter.ReadingCelsius,
            _order.Thermometer.CheckAt(corrected.ClearPointCelsius),
            read.SpanCelsius > 0 ? read.SpanCelsius : null);
        var form = NearestForm(corrected, error);
        if ((form?.ClearPointCelsius ?? PureCelsius()) is not { } pure)
        {
            return (null, "Nothing is listed for it and no expected range was sent, so there is nothing to compare it with.");
        }

        if (PurityEstimate.WhyNone(pure, corrected, error) is { } why)
        {
            return (null, why);
        }

        if (Enthalpy(pure) is not { } enthalpy)
        {
            return (null, "No enthalpy of fusion of it is known, and what has a cage or bridged rings, as camphor has, often crystallises as a plastic crystal that takes little heat to melt: entropies of other substances give no bound for it. Send its enthalpy of fusion if you know it.");
        }

        var purity = PurityEstimate.Of(pure, read, corrected, error, enthalpy);
        var judged = form is null ? "" : $" More than one form is listed; it is compared with the nearest that melts no lower: {form.InWords()}.";
        return purity.Impurity.Low >= PurityEstimate.MostImpurity
            ? (null, "It melts so far below what is listed or expected that less than half of it would be this compound: the law tells nothing there. It is another compound, or a mixture.")
            : (purity with { Sentence = purity.Sentence + judged + OfPreparation() }, null);
    }

    // Impurity only lowers, so the form is one that melts no lower than what was read, errors and all. Above all of them it is the highest.
    private ListedForm? NearestForm(MeltingRange corrected, double error) =>
        _forms.Find(form => PurityEstimate.WhyAbove(form.ClearPointCelsius, corrected, error) is null) ?? _forms.LastOrDefault();

    private string OfPreparation() => _order.Preparation switch
    {
        Preparation.Crude => " It was melted as it came: recrystallise, dry and melt it again before anything is made of the figure.",
        Preparation.Recrystallised => " What two recrystallisations in a row do not change is not an impurity that the solvent takes away.",
        _ => "",
    };

    private AmountSpan? PureCelsius() =>
        _order.Expected is { } sent ? AmountSpan.Known(sent.ClearPointCelsius)
        : _listed.Count > 0 ? new AmountSpan(_listed.Min(row => row.High), _listed.Max(row => row.High))
        : null;

    // Of a standard and of a compound by itself it may be printed; of no derivative. No bound holds for a cage: whether its
    // derivatives are plastic crystals too is not known, so they get none either.
    private FusionEnthalpy? Enthalpy(AmountSpan pure)
    {
        if (_order.JoulesPerMole is { } sent)
        {
            return new FusionEnthalpy(AmountSpan.Known(sent), EnthalpyBasis.Sent, []);
        }

        if (_order.Kind is null)
        {
            var listed = Table.Constants.Where(row => row.ParentKey == _order.Parent?.Key && row.Property == ParentProperty.EnthalpyOfFusion).ToList();
            if (listed.Count > 0)
            {
                return new FusionEnthalpy(
                    new AmountSpan(listed.Min(row => row.Low), listed.Max(row => row.High)), EnthalpyBasis.Printed, [.. Keys(listed.Select(row => row.SourceKey))]);
            }

            if (EnthalpyOfFusion.Find(_order.Standard?.CasNumber ?? _order.Parent?.CasNumber) is { } printed)
            {
                return new FusionEnthalpy(AmountSpan.Known(printed.JoulesPerMole), EnthalpyBasis.Printed, [printed.SourceKey]);
            }
        }

        if (_order.Parent is { } parent && SmilesReader.Read(parent.Smiles).Molecule is { } molecule && BridgedRings.AreIn(molecule))
        {
            return null;
        }

        var entropy = EnthalpyOfFusion.UsualEntropy;
        return new FusionEnthalpy(
            new AmountSpan(IdealLiquidus.EnthalpyOf(entropy.Low, pure.Low), IdealLiquidus.EnthalpyOf(entropy.High, pure.High)),
            EnthalpyBasis.Bounded,
            WaldenAndEntropies);
    }

    private IEnumerable<CautionOfSheet> Cautions()
    {
        if (_order.Kind is { } kind)
        {
            yield return new CautionOfSheet(kind.Name, kind.CanExplode, kind.Cautions);
        }

        if (_order.Parent is { Hazards: { } hazards } parent)
        {
            yield return new CautionOfSheet(parent.Name, false, hazards);
        }
        else if (_order is { Parent: null, Standard: null })
        {
            yield return new CautionOfSheet(Unknown, false, "It may be toxic, or decompose violently when heated: a few milligrams at most, behind the lens.");
        }

        yield return new CautionOfSheet(
            "hot bath or block", false,
            "Hot oil and metal burn, and oil smokes and burns itself: eye protection, no water near hot oil, and let it cool before the next tube. Tubes break: broken glass has its own bin.");
        if (_order.Sublimes)
        {
            yield return new CautionOfSheet("closed tubes", true, "A tube closed at both ends may burst when hot: keep the lens or a screen between it and your eyes.");
        }
    }

    private sealed record ListedRange(double Low, double High, bool Decomposes, string? Form, string SourceKey);
}
