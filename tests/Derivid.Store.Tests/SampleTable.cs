using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;
using Derivid.Store.Seeding;

namespace Derivid.Store.Tests;

/// <summary>A table with rows of every type, made up to be awkward to store; none of it is chemistry.</summary>
internal static class SampleTable
{
    public static ReferenceTable First { get; } = new()
    {
        Version = 1,
        Sources =
        [
            new Source("book", "A “book”, 2nd ed.; it's\nprinted", null, SourceGrade.Compiled, "book", SourceReading.PageRead),
            new Source("set", "A data set", "https://example.org/?a=1&b={0}", SourceGrade.Measured, "set", SourceReading.DataSetRead),
        ],
        Parents =
        [
            Parent("a-b", "2-Ånger", ["β-one", "it's \"quoted\""], 58.08),
            Parent("aa", "Ketone", [], 0.1 + 0.2) with { Note = "", Hazards = "flammable" },
            Parent("b", "Both", ["x"], 1e-300) with { Kind = ParentKind.Both },
        ],
        Constants =
        [
            Constant("a-b", ParentProperty.BoilingPoint, 56, 101.325),
            Constant("a-b", ParentProperty.BoilingPoint, 56, 101.325) with { Low = 56.5, Locator = "p. 3" },
            Constant("a-b", ParentProperty.MeltingPoint, -94.7, null),
            Constant("aa", ParentProperty.EnthalpyOfFusion, 5720, null),
        ],
        Kinds =
        [
            Kind("dnph", ["2,4-DNPH"]) with { ClosesTo = ClosedRing.Isoxazole, TestKey = "fuchsin" },
            Kind("semicarbazone", []),
        ],
        Derivatives =
        [
            Derivative("1", "a-b", 126) with { ColourKey = "red", Form = "E", Corrected = false, Note = "n" },
            Derivative("10", "a-b", 127.5) with { IsUnusual = true },
            Derivative("2", "aa", -1.0 / 3.0) with { Decomposes = true, Corrected = true },
        ],
        Questions = [new SpotTestQuestion("aldehyde", "An aldehyde?", 0.02, true, "book")],
        SpotTests = [Test("fuchsin"), Test("silver-mirror") with { KnownExceptions = null }],
        Responses =
        [
            new SpotTestResponse("fuchsin", 1, "any", 0.05, false, true, "book", null),
            new SpotTestResponse("silver-mirror", 1, "parent:aa", 0.5, true, false, "set", "made up"),
            new SpotTestResponse("silver-mirror", 2, "any", 0.95, true, true, "book", null),
        ],
        Colours = [new Colour("yellow", "yellow", 0, []), new Colour("red", "red", 1, ["scarlet", "crimson"])],
        ColourExpectations = [new ColourExpectation("dnph", 1, "any", [0.7, 0.3], "book", true, null)],
        Standards =
        [
            new MeltingPointStandard("acid", "An acid", "65-85-0", 122.4, "set", Verification.CrossChecked, null),
        ],
    };

    public static SeedTable Seed { get; } = new("sample", () => First);

    /// <summary>The first version with one row changed, one dropped and one added.</summary>
    public static ReferenceTable Second { get; } = First with
    {
        Version = 2,
        Parents = [.. First.Parents, Parent("c", "New", [], 100)],
        Constants = [.. First.Constants.Take(3)],
        Derivatives = [First.Derivatives[0] with { HighCelsius = 126.5 }, .. First.Derivatives.Skip(1)],
    };

    private static Parent Parent(string key, string name, string[] synonyms, double molarMass) => new()
    {
        Key = key,
        Name = name,
        Synonyms = synonyms,
        CasNumber = "67-64-1",
        Smiles = @"CC(=O)/C=C\C",
        Formula = "C3H6O",
        MolarMass = molarMass,
        Kind = ParentKind.Ketone,
    };

    private static ParentConstant Constant(string parent, ParentProperty property, double value, double? pressure) => new()
    {
        ParentKey = parent,
        Property = property,
        Low = value,
        High = value,
        PressureKilopascals = pressure,
        SourceKey = "book",
        Verification = Verification.Recalled,
    };

    private static DerivativeKind Kind(string key, string[] synonyms) => new()
    {
        Key = key,
        Name = key,
        Synonyms = synonyms,
        ReagentName = "reagent",
        ReagentSmiles = "NN",
        ReagentFormula = "H4N2",
        ReagentMolarMass = 32.05,
        ReagentsPerCarbonyl = 1,
        WatersPerCarbonyl = 1,
        AppliesTo = "any",
        ColourInforms = true,
        RecrystallisationSolvents = "ethanol",
        UsualLowCelsius = 50,
        UsualHighCelsius = 300,
        Minutes = 30.5,
        Hazard = Hazard.High,
        Cautions = "cautions",
        SourceKey = "book",
    };

    private static Derivative Derivative(string key, string parent, double celsius) => new()
    {
        Key = key,
        ParentKey = parent,
        KindKey = "dnph",
        CarbonylsCondensed = 1,
        LowCelsius = celsius,
        HighCelsius = celsius,
        SourceKey = "book",
        AsPrinted = "as printed, “d.”",
        Verification = Verification.Read,
    };

    private static SpotTest Test(string key) => new()
    {
        Key = key,
        Name = key,
        Synonyms = ["synonym"],
        QuestionKey = "aldehyde",
        PositiveLooksLike = "a colour",
        ReadWithinMinutes = 2,
        Minutes = 5,
        Hazard = Hazard.Low,
        Cautions = "cautions",
        PositiveRateIfYes = 0.98,
        PositiveRateIfNo = 0.02,
        KnownExceptions = "exceptions",
        SourceKey = "book",
    };
}
