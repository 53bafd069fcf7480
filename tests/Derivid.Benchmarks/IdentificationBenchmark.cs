using BenchmarkDotNet.Attributes;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Store.Seeding;

namespace Derivid.Benchmarks;

/// <summary>One identification against the whole seed table, as the service does it for one request.</summary>
[MemoryDiagnoser]
public class IdentificationBenchmark
{
    private readonly IdentificationEngine _engine = new(TableSnapshot.Build(
        SeedTables.Load(), ModelSettingsReader.BuiltIn()));

    private readonly Observation _oneDerivative = new()
    {
        Derivatives = [new("2-4-dinitrophenylhydrazone", new MeltingRange(125, 127), ColourKey: "yellow")],
        SpotTests = [new("iodoform", SpotTestOutcome.Positive), new("tollens", SpotTestOutcome.Negative)],
    };

    private Observation _everything = new();

    /// <summary>Adds every further sort of evidence.</summary>
    [GlobalSetup]
    public void AddEvidence() =>
        _everything = _oneDerivative with
        {
            Derivatives =
            [
                .. _oneDerivative.Derivatives,
                new("semicarbazone", new MeltingRange(187, 189)),
                new("oxime", new MeltingRange(58, 60)),
            ],
            BoilingPoint = new BoilingPointReading(new MeltingRange(55, 57)),
            MolarMass = new MolarMassReading(58, 2),
            Elements = [new ElementReading(DetectableElement.Nitrogen, false)],
        };

    /// <summary>A 2,4-dinitrophenylhydrazone, its colour and two spot tests.</summary>
    [Benchmark(Baseline = true)]
    public Identification OneDerivative() => _engine.Identify(_oneDerivative);

    /// <summary>Three derivatives, tests, boiling point, molar mass and elements.</summary>
    [Benchmark]
    public Identification Everything() => _engine.Identify(_everything);

    /// <summary>Nothing at all: every compound alike, so that every next step weighs every compound.</summary>
    [Benchmark]
    public Identification NoEvidence() => _engine.Identify(new Observation());

    /// <summary>Places and probabilities, as a script asks for them.</summary>
    [Benchmark]
    public Ranking WithoutReasons() => _engine.Rank(_oneDerivative);

    /// <summary>Probabilities only, as a simulation asks for them.</summary>
    [Benchmark]
    public PosteriorView WithoutExplanation() => _engine.Weigh(_oneDerivative);
}
