using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking.Likelihoods;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Ranking;

/// <summary>An observation turned into pieces of evidence over one snapshot.</summary>
internal sealed class WeighedObservation : IDisposable
{
    /// <summary>A range no wider than this is sharp. Units: °C. Source: customary 2 °C of class hand-outs.</summary>
    private const double SharpSpanCelsius = 2;

    private readonly List<ParentLikelihoods> _likelihoods = [];
    private readonly List<CorrectedReading> _readings = [];
    private readonly List<(string KindKey, Purity Purity)> _purities = [];
    private readonly List<DerivativeReading> _setAside = [];
    private readonly List<KindSnapshot> _failedDespiteTest = [];
    private readonly List<KindSnapshot> _timedInVain = [];
    private readonly List<MixedMelting> _mixedInVain = [];
    private readonly HashSet<string> _repeatedTests = new(StringComparer.Ordinal);
    private readonly Dictionary<string, SpotTestLikelihoods> _spotTestsByQuestion = new(StringComparer.Ordinal);
    private RelativesByReagent? _relatives;

    private WeighedObservation(Observation observation, TableSnapshot snapshot)
    {
        Observation = observation;
        Snapshot = snapshot;
    }

    /// <summary>The observation.</summary>
    public Observation Observation { get; }

    /// <summary>The table it is weighed against.</summary>
    public TableSnapshot Snapshot { get; }

    /// <summary>What was seen, weighed: derivatives first, each sort in order of its key.</summary>
    public IReadOnlyList<ParentLikelihoods> Likelihoods => _likelihoods;

    /// <summary>Temperatures as read and as used.</summary>
    public IReadOnlyList<CorrectedReading> Readings => _readings;

    /// <summary>What is believed of the purity of each derivative melted.</summary>
    public IReadOnlyList<(string KindKey, Purity Purity)> Purities => _purities;

    /// <summary>Readings of a kind that was also melted in a better state; they carry no weight.</summary>
    public IReadOnlyList<DerivativeReading> SetAside => _setAside;

    /// <summary>Kinds of which no crystals came though the spot test with their reagent was positive; of no weight.</summary>
    public IReadOnlyList<KindSnapshot> FailedDespiteTest => _failedDespiteTest;

    /// <summary>Kinds whose crystals were timed, though nothing is known of how soon they come; of no weight.</summary>
    public IReadOnlyList<KindSnapshot> TimedInVain => _timedInVain;

    /// <summary>Mixtures of which nothing tells how they should melt; of no weight.</summary>
    public IReadOnlyList<MixedMelting> MixedInVain => _mixedInVain;

    /// <summary>
    /// Whether a spot test would only repeat that a derivative failed, being the same mixing; it carries no weight then.
    /// </summary>
    public bool IsRepeated(string testKey) => _repeatedTests.Contains(testKey);

    /// <summary>The tests of one spot-test question, weighed. Missing: null, none of its tests was read.</summary>
    public SpotTestLikelihoods? SpotTestsOf(string questionKey) => _spotTestsByQuestion.GetValueOrDefault(questionKey);

    /// <summary>Weighs an observation.</summary>
    /// <exception cref="ArgumentException">It names a kind, test, colour or parent that the table does not have.</exception>
    public static WeighedObservation Weigh(Observation observation, TableSnapshot snapshot)
    {
        var weighed = new WeighedObservation(observation, snapshot);
        weighed.AddDerivatives();
        weighed.AddSpotTests();
        weighed.AddPhysicalData();
        weighed.AddMixedMeltings();
        return weighed;
    }

    /// <inheritdoc />
    /// <remarks>The arrays of likelihoods by parent are lent to others: no likelihood is to be asked any more.</remarks>
    public void Dispose()
    {
        foreach (var likelihoods in _likelihoods)
        {
            (likelihoods as TemperatureLikelihoods)?.GiveBack();
        }
    }

    /// <summary>What the reagents have told of unlisted relatives so far; those that gave crystals tell it first.</summary>
    public RelativesByReagent Relatives()
    {
        if (_relatives is null)
        {
            _relatives = new RelativesByReagent(Snapshot);
            foreach (var kind in Snapshot.Kinds.Where(kind => Observation.Derivatives.Any(reading =>
                reading.KindKey == kind.Kind.Key && reading.Came == Precipitate.Crystals)))
            {
                _relatives.TakeIn(kind.Precipitates, Precipitate.Crystals);
            }
        }

        return _relatives;
    }

    private void AddDerivatives()
    {
        foreach (var group in Observation.Derivatives
            .GroupBy(reading => reading.KindKey, StringComparer.Ordinal)
            .OrderBy(group => group.Key, StringComparer.Ordinal))
        {
            var kind = Snapshot.Kind(group.Key);
            var readings = group.Order(MostCarefulFirst.Order).ToList();
            _setAside.AddRange(readings.Skip(1));
            if (readings[0].Range is { } range)
            {
                AddMeltingRange(kind, range, readings[0].Preparation);
            }
            else if (Failed(kind, readings) is { } came)
            {
                _likelihoods.Add(PrecipitateLikelihoods.Weigh(kind, came, Snapshot, Relatives()));
            }

            AddTime(kind, readings);
            var colour = readings.Select(reading => reading.ColourKey).FirstOrDefault(key => key is not null);
            if (colour is not null && ColourLikelihoods.Weigh(kind, colour, Snapshot) is { } likelihoods)
            {
                _likelihoods.Add(likelihoods);
            }
        }
    }

    /// <summary>Of several mixings with one reagent the quickest counts: others may have been cold or thin.</summary>
    private void AddTime(KindSnapshot kind, List<DerivativeReading> readings)
    {
        if (readings.Min(reading => reading.Time) is not { } time)
        {
            return;
        }

        if (PrecipitateTimeLikelihoods.Weigh(kind, time, Snapshot) is { } likelihoods)
        {
            _likelihoods.Add(likelihoods);
        }
        else
        {
            _timedInVain.Add(kind);
        }
    }

    private void AddMixedMeltings()
    {
        foreach (var reading in Observation.MixedMeltings
            .OrderBy(reading => reading.KindKey, StringComparer.Ordinal)
            .ThenBy(reading => reading.PartnerKey, StringComparer.Ordinal))
        {
            var mixed = Mixed(reading);
            _readings.Add(new CorrectedReading(
                EvidenceKind.MixedMelting,
                reading.KindKey,
                reading.Mixture,
                mixed.Used,
                Snapshot.Settings.Care.ThermometerCelsius(Observation.Thermometer.CheckAt(mixed.Used.ClearPointCelsius))));
            if (MixedMeltingLikelihoods.Weigh(mixed, Snapshot) is { } likelihoods)
            {
                _likelihoods.Add(likelihoods);
            }
            else
            {
                _mixedInVain.Add(mixed);
            }
        }
    }

    private MixedMelting Mixed(MixedMeltingReading reading)
    {
        if (!Snapshot.TryFindParent(reading.PartnerKey, out var partner))
        {
            throw new ArgumentException($"The table has no parent '{reading.PartnerKey}'.", nameof(reading));
        }

        var kind = reading.KindKey is { } key ? Snapshot.Kind(key) : null;
        var listed = kind?.Listed ?? Snapshot.MeltingPoints;
        var own = kind is null
            ? Observation.MeltingPoint is { } melting ? (Range: melting, Preparation: Preparation.Recrystallised) : null
            : Observation.Derivatives
                .Where(made => made.KindKey == reading.KindKey && made.Range is not null)
                .Order(MostCarefulFirst.Order)
                .Select(made => ((MeltingRange Range, Preparation Preparation)?)(made.Range!.Value, made.Preparation))
                .FirstOrDefault();
        // Beside an authentic sample, crystals that were recrystallised and melted sharply give no cause for doubt.
        var purity = own is { Preparation: Preparation.Recrystallised, Range.SpanCelsius: <= SharpSpanCelsius } && reading.Authentic is not null
            ? default
            : Snapshot.Settings.Depression.PurityOf(
                own is { } crystals ? SpanOf(crystals.Range) : null, own?.Preparation ?? Preparation.Unstated);
        var used = Observation.Thermometer.Apply(reading.Mixture);
        return new MixedMelting
        {
            Partner = partner,
            Kind = kind,
            Listed = listed,
            Used = used,
            Authentic = reading.Authentic is { } authentic ? Observation.Thermometer.Apply(authentic) : null,
            Own = own is { } alone ? Observation.Thermometer.Apply(alone.Range) : null,
            Purity = new Purity(purity.ImpureShare, purity.DepressionCelsius / 2),
            IsPartnerLeftOut = Observation.Prior.Weights is { } weights && !weights.ContainsKey(reading.PartnerKey),
            ReadingCelsius = ErrorCelsius(listed.Scatter, used, reading.Authentic ?? own?.Range),
        };
    }

    /// <summary>
    /// How far a mixture's clear point may be from what it is compared with. Melted beside that, on one thermometer and by one
    /// pair of eyes, the two are apart by a reader's error once; assumed. The mixture's own width is no excuse: it is weighed.
    /// </summary>
    private double ErrorCelsius(ScatterSettings scatter, MeltingRange mixture, MeltingRange? beside)
    {
        var care = Snapshot.Settings.Care;
        if (beside is not { } other)
        {
            return care.ReadingCelsius(scatter.ReadingCelsius, Observation.Thermometer.CheckAt(mixture.ClearPointCelsius), null);
        }

        var reader = care.ReaderCelsius(scatter.ReadingCelsius, SpanOf(other));
        var decomposition = mixture.Decomposes || other.Decomposes ? scatter.DecompositionCelsius : 0;
        return Math.Sqrt((reader * reader) + (decomposition * decomposition));
    }

    /// <summary>Whether the spot test with a kind's reagent had an outcome.</summary>
    private bool IsRead(KindSnapshot kind, SpotTestOutcome outcome) =>
        kind.Precipitates.TestKey is { } test && Observation.SpotTests.Contains(new SpotTestReading(test, outcome));

    /// <summary>
    /// What came of a kind where it was no crystals. A later attempt may have given some, and so may the spot test with the
    /// same reagent: the best outcome counts. Missing: null, crystals came or nobody said.
    /// </summary>
    private Precipitate? Failed(KindSnapshot kind, List<DerivativeReading> readings)
    {
        var came = readings.Min(reading => reading.Came);
        if (came is null or Precipitate.Crystals)
        {
            return null;
        }

        if (IsRead(kind, SpotTestOutcome.Positive))
        {
            _failedDespiteTest.Add(kind);
            return null;
        }

        if (kind.Precipitates.TestKey is { } test)
        {
            _repeatedTests.Add(test);
        }

        return came;
    }

    private void AddMeltingRange(KindSnapshot kind, MeltingRange range, Preparation preparation)
    {
        var used = Observation.Thermometer.Apply(range);
        var purity = Snapshot.Settings.Depression.PurityOf(SpanOf(range), preparation);
        _purities.Add((kind.Kind.Key, purity));
        AddTemperature(
            EvidenceKind.DerivativeMeltingRange,
            kind.Kind.Key,
            kind.Kind.Name,
            kind.Listed,
            (range, used),
            purity);
    }

    private void AddTemperature(
        EvidenceKind kind,
        string? subject,
        string quantity,
        ListedTemperatures listed,
        (MeltingRange AsRead, MeltingRange AsUsed) range,
        Purity purity,
        double correctionCelsius = 0)
    {
        var check = Observation.Thermometer.CheckAt(range.AsUsed.ClearPointCelsius);
        var sharp = Snapshot.Settings.Care.ReadingCelsius(listed.Scatter.ReadingCelsius, check, SpanOf(range.AsRead));
        var reading = Math.Sqrt((sharp * sharp) + (correctionCelsius * correctionCelsius));
        _likelihoods.Add(TemperatureLikelihoods.Weigh(
            kind, subject, quantity, Snapshot, listed, range.AsUsed, new ReadingError(reading, purity, range.AsUsed.Decomposes)));
        _readings.Add(new CorrectedReading(
            kind, subject, range.AsRead, range.AsUsed, Snapshot.Settings.Care.ThermometerCelsius(check)));
    }

    private void AddSpotTests()
    {
        var outcomes = Observation.SpotTests
            .Where(reading => reading.Outcome is SpotTestOutcome.Positive or SpotTestOutcome.Negative
                && !IsRepeated(reading.TestKey))
            .OrderBy(reading => reading.TestKey, StringComparer.Ordinal)
            .ThenBy(reading => reading.Outcome)
            .Select(reading => (
                Row: Snapshot.SpotTests.Row(reading.TestKey),
                IsPositive: reading.Outcome == SpotTestOutcome.Positive))
            .GroupBy(outcome => outcome.Row.Question.Key, StringComparer.Ordinal)
            .OrderBy(group => group.Key, StringComparer.Ordinal);
        foreach (var group in outcomes)
        {
            var isOfReagent = group.Any(outcome => Snapshot.IsOfReagent(outcome.Row.Test.Key));
            var likelihoods = SpotTestLikelihoods.Weigh(group.Key, [.. group], Snapshot, isOfReagent ? Relatives() : null);
            _spotTestsByQuestion.Add(group.Key, likelihoods);
            _likelihoods.Add(likelihoods);
        }
    }

    private void AddPhysicalData()
    {
        if (Observation is { State: { } state, MeltingPoint: null })
        {
            _likelihoods.Add(StateLikelihoods.Weigh(state, Snapshot));
        }

        if (Observation.BoilingPoint is { } boiling)
        {
            var used = PressureCorrection.ToStandard(
                Observation.Thermometer.Apply(boiling.Range), boiling.PressureKilopascals);
            AddTemperature(
                EvidenceKind.BoilingPoint, null, "boiling point", Snapshot.BoilingPoints, (boiling.Range, used), ReadLow(),
                PressureCorrection.ErrorCelsius(boiling.PressureKilopascals));
        }

        if (Observation.MeltingPoint is { } melting)
        {
            // An unknown is handed out clean, or has been recrystallised for its melting point.
            AddTemperature(
                EvidenceKind.MeltingPoint,
                null,
                "melting point",
                Snapshot.MeltingPoints,
                (melting, Observation.Thermometer.Apply(melting)),
                Snapshot.Settings.Depression.PurityOf(SpanOf(melting), Preparation.Recrystallised));
        }

        if (Observation.MolarMass is { } molarMass)
        {
            _likelihoods.Add(MolarMassLikelihoods.Weigh(molarMass, Snapshot));
        }

        if (Observation.Elements.Count > 0)
        {
            _likelihoods.Add(ElementLikelihoods.Weigh([.. Observation.Elements.OrderBy(e => e.Element)], Snapshot));
        }
    }

    /// <summary>A boiling point is read low much as an impure solid melts low.</summary>
    private Purity ReadLow() => Snapshot.Settings.BoilingLow is { Celsius: > 0 } low
        ? new Purity(1 - low.GrossShare, low.Celsius, low.GrossShare, low.GrossCelsius)
        : default;

    /// <summary>Missing: null for a single figure, whose width says nothing.</summary>
    private static double? SpanOf(MeltingRange range) => range.SpanCelsius > 0 ? range.SpanCelsius : null;
}
