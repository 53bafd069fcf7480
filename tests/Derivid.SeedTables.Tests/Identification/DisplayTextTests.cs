using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Store.Seeding;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests.Identification;

/// <summary>No rule hangs on a name, a note or the wording of a sentence.</summary>
public sealed class DisplayTextTests
{
    private const string Dnph = "2-4-dinitrophenylhydrazone";

    /// <summary>The table with every text that is only shown in other words.</summary>
    private static readonly ReferenceTable Renamed = Table with
    {
        Sources = [.. Table.Sources.Select((row, i) => row with { Citation = $"Citation {i}", Address = null })],
        Parents = [.. Table.Parents.Select((row, i) => row with
        {
            Name = $"Parent {i}",
            Synonyms = [],
            Hazards = "Hazards.",
            Note = "Note.",
        })],
        Constants = [.. Table.Constants.Select(row => row with { Note = "Note." })],
        Kinds = [.. Table.Kinds.Select((row, i) => row with
        {
            Name = $"Kind {i}",
            Synonyms = [],
            ReagentName = $"Reagent {i}",
            RecrystallisationSolvents = "Solvents.",
            Cautions = "Cautions.",
        })],
        Derivatives = [.. Table.Derivatives.Select(row => row with { Note = "Note." })],
        Questions = [.. Table.Questions.Select((row, i) => row with { Text = $"Question {i}?" })],
        SpotTests = [.. Table.SpotTests.Select((row, i) => row with
        {
            Name = $"Test {i}",
            Synonyms = [],
            PositiveLooksLike = "Looks.",
            Cautions = "Cautions.",
            KnownExceptions = "Exceptions.",
        })],
        Responses = [.. Table.Responses.Select(row => row with { Note = "Note." })],
        Colours = [.. Table.Colours.Select((row, i) => row with { Name = $"Colour {i}", Synonyms = [] })],
        ColourExpectations = [.. Table.ColourExpectations.Select(row => row with { Note = "Note." })],
        Standards = [.. Table.Standards.Select((row, i) => row with { Name = $"Standard {i}", Note = "Note." })],
    };

    private static readonly IdentificationEngine Engine = EngineOf(Table);

    /// <summary>Failed derivatives, tests with their reagents, colours and melting ranges: all that the engine weighs.</summary>
    private static List<Observation> Observations =>
    [
        .. Table.Kinds.Select(kind => new Observation { Derivatives = [new(kind.Key, null, Precipitate: Precipitate.None)] }),
        .. Table.Kinds.Select(kind => new Observation { Derivatives = [new(kind.Key, null, Precipitate: Precipitate.Oil)] }),
        .. Table.SpotTests.SelectMany(test => new[] { SpotTestOutcome.Positive, SpotTestOutcome.Negative }
            .Select(outcome => new Observation { SpotTests = [new(test.Key, outcome)] })),
        .. Table.SpotTests.Select(test => new Observation
        {
            Derivatives = [new(Dnph, null, Precipitate: Precipitate.None), new("oxime", null, Precipitate: Precipitate.Oil)],
            SpotTests = [new(test.Key, SpotTestOutcome.Negative)],
        }),
        .. Table.Kinds.SelectMany(kind => Enum.GetValues<PrecipitateTime>()
            .Select(time => new Observation { Derivatives = [new(kind.Key, null, Time: time)] })),
        .. Table.Derivatives.Where((_, i) => i % 97 == 0).Select(row => new Observation
        {
            MixedMeltings = [new(row.KindKey, row.ParentKey, new MeltingRange(row.LowCelsius - 20, row.HighCelsius - 10))],
        }),
        .. Table.Derivatives.Where((_, i) => i % 29 == 0).Select(row => new Observation
        {
            Derivatives = [new(row.KindKey, new MeltingRange(row.LowCelsius - 2, row.HighCelsius), Preparation.Crude, "orange")],
            State = PhysicalState.Liquid,
        }),
    ];

    [Fact]
    public void OtherWordsForTheSameThingsChangeNoProbability()
    {
        var renamed = EngineOf(Renamed);

        Assert.True(Observations.Count >= 50);
        Assert.All(Observations, observation => AssertSame(Engine.Weigh(observation), renamed.Weigh(observation)));
    }

    [Theory]
    [InlineData("oxime", "ON")]
    [InlineData("oxime", "[OH]N")]
    [InlineData("phenylhydrazone", "c1ccccc1N-N")]
    [InlineData("semicarbazone", "C(=O)(N-N)N")]
    [InlineData("semicarbazone", "[NH2][NH]C(N)=O")]
    public void ReagentWrittenAnotherWayChangesNoProbability(string kind, string smiles)
    {
        var table = Table with { Kinds = [.. Table.Kinds.Select(row => row.Key == kind ? row with { ReagentSmiles = smiles } : row)] };
        var rewritten = EngineOf(table);

        Assert.Equal(TableValidation.Of(Table.Ordered()), TableValidation.Of(table.Ordered()));
        Assert.All(Observations, observation => AssertSame(Engine.Weigh(observation), rewritten.Weigh(observation)));
    }

    [Fact]
    public void OtherNotesAndCautionsChangeNoFinding()
    {
        var reworded = Table with
        {
            Constants = Renamed.Constants,
            Kinds = [.. Table.Kinds.Select(row => row with { Cautions = "Cautions." })],
            Derivatives = Renamed.Derivatives,
            SpotTests = [.. Table.SpotTests.Select(row => row with { Cautions = "Cautions.", KnownExceptions = null })],
            Responses = Renamed.Responses,
        };

        Assert.Equal(TableValidation.Of(Table.Ordered()), TableValidation.Of(reworded.Ordered()));
    }

    private static IdentificationEngine EngineOf(ReferenceTable table) =>
        new(TableSnapshot.Build(table, ModelSettingsReader.BuiltIn()));

    private static void AssertSame(PosteriorView one, PosteriorView other)
    {
        Assert.Equal(one.Probability, other.Probability);
        Assert.Equal(one.LogLikelihoodRatio, other.LogLikelihoodRatio);
        Assert.Equal(one.NoneOfThese, other.NoneOfThese);
    }
}
