using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;
using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Curation;

/// <summary>
/// A small table without a fault, and one change at a time. Compounds, their structures, formulas and CAS numbers are real,
/// the melting ranges and rates invented.
/// </summary>
internal static class CuratedTable
{
    public static ReferenceTable Sound { get; } = new()
    {
        Version = 1,
        Sources =
        [
            new Source("handbook", "A handbook", null, SourceGrade.Compiled, "handbooks", SourceReading.Memory),
            new Source("journal", "A journal", null, SourceGrade.Measured, "journal", SourceReading.PageRead),
            new Source("other-journal", "Another journal", null, SourceGrade.Measured, "other", SourceReading.PageRead),
            new Source("standards", "Standards", null, SourceGrade.Measured, "standards", SourceReading.PageRead),
        ],
        Parents =
        [
            Parent("benzaldehyde", "O=Cc1ccccc1", "100-52-7", ParentKind.Aldehyde),
            Parent("pentane-2-4-dione", "CC(=O)CC(C)=O", "123-54-6", ParentKind.Ketone),
            Parent("propanone", "CC(C)=O", "67-64-1", ParentKind.Ketone, "acetone"),
            Parent("trioxane", "C1OCOCO1", "110-88-3", ParentKind.Masked),
        ],
        Constants =
        [
            Constant("benzaldehyde", ParentProperty.MeltingPoint, -26, null),
            Constant("propanone", ParentProperty.BoilingPoint, 56, 101.325),
            Constant("propanone", ParentProperty.EnthalpyOfFusion, 5700, null),
        ],
        Kinds =
        [
            Kind("dimedone-derivative", "O=C1CC(=O)CC(C)(C)C1", appliesTo: "aldehyde", reagents: 2),
            Kind("oxime", "NO", colourInforms: true),
            Kind("semicarbazone", "NNC(N)=O"),
        ],
        Derivatives =
        [
            Derivative("benzaldehyde", "dimedone-derivative", 193),
            Derivative("benzaldehyde", "oxime", 35),
            Derivative("benzaldehyde", "semicarbazone", 222),
            Derivative("pentane-2-4-dione", "oxime", 149),
            Derivative("propanone", "semicarbazone", 188),
            Derivative("trioxane", "semicarbazone", 169),
        ],
        Questions = [new SpotTestQuestion("aldehyde", "Is it an aldehyde?", 0.02, true, "journal")],
        SpotTests = [Test("schiff"), Test("tollens")],
        Responses =
        [
            Response("schiff", 1, "aldehyde", 0.9, true), Response("schiff", 2, "any", 0.05, false),
            Response("tollens", 1, "aldehyde", 0.95, true), Response("tollens", 2, "any", 0.04, false),
        ],
        Colours = [new Colour("white", "white", 0, []), new Colour("yellow", "yellow", 1, ["lemon"])],
        ColourExpectations =
        [
            new ColourExpectation("oxime", 1, "aldehyde", [0.3, 0.7], "journal", true, null),
            new ColourExpectation("oxime", 2, "any", [0.98, 0.02], "journal", true, null),
        ],
        Standards = [new MeltingPointStandard("benzoic-acid", "benzoic acid", "65-85-0", 122.4, "standards", Verification.CrossChecked, null)],
    };

    /// <summary>The table with the record of a key changed.</summary>
    public static ReferenceTable Change<T>(this ReferenceTable table, RecordKind kind, string key, Func<T, T> change)
        where T : class
    {
        Assert.Contains(table.RowsOf(kind), row => kind.KeyOf(row) == key);
        return table.With(kind, table.RowsOf(kind).Select(row => kind.KeyOf(row) == key ? change((T)row) : row));
    }

    /// <summary>The table with records added.</summary>
    public static ReferenceTable Add(this ReferenceTable table, RecordKind kind, params object[] records)
    {
        return table.With(kind, table.RowsOf(kind).Concat(records));
    }

    /// <summary>The table without the record of a key.</summary>
    public static ReferenceTable Remove(this ReferenceTable table, RecordKind kind, string key)
    {
        return table.With(kind, table.RowsOf(kind).Where(row => kind.KeyOf(row) != key));
    }

    public static Parent Parent(string key, string smiles, string casNumber, ParentKind kind, params string[] synonyms)
    {
        var formula = SmilesReader.Read(smiles).Molecule!.Formula;
        return new Parent
        {
            Key = key,
            Name = key,
            Synonyms = synonyms,
            CasNumber = casNumber,
            Smiles = smiles,
            Formula = formula.ToString(),
            MolarMass = Math.Round(formula.MolarMass, 2),
            Kind = kind,
        };
    }

    public static Derivative Derivative(
        string parent, string kind, double celsius, string source = "journal", Verification verification = Verification.Read) =>
        new()
        {
            Key = source == "journal" ? $"{parent}-{kind}" : $"{parent}-{kind}-{source}",
            ParentKey = parent,
            KindKey = kind,
            CarbonylsCondensed = 1,
            LowCelsius = celsius,
            HighCelsius = celsius,
            SourceKey = source,
            AsPrinted = FormattableString.Invariant($"{celsius}"),
            Verification = verification,
        };

    /// <summary>The derivative with another range, as printed.</summary>
    public static Derivative Melting(this Derivative derivative, double low, double high) =>
        derivative with
        {
            LowCelsius = low,
            HighCelsius = high,
            AsPrinted = low == high ? FormattableString.Invariant($"{low}") : FormattableString.Invariant($"{low} - {high}"),
        };

    public static ParentConstant Constant(
        string parent, ParentProperty property, double value, double? kilopascals, string source = "other-journal") =>
        new()
        {
            ParentKey = parent,
            Property = property,
            Low = value,
            High = value,
            PressureKilopascals = kilopascals,
            SourceKey = source,
            Verification = Verification.Read,
        };

    public static SpotTestResponse Response(string test, int order, string appliesTo, double rate, bool answersYes) =>
        new(test, order, appliesTo, rate, answersYes, true, "journal", null);

    public static SpotTest Test(string key) =>
        new()
        {
            Key = key,
            Name = key,
            QuestionKey = "aldehyde",
            PositiveLooksLike = "a change",
            ReadWithinMinutes = 5,
            Minutes = 5,
            Hazard = Hazard.Low,
            Cautions = "The usual ones.",
            PositiveRateIfYes = 0.95,
            PositiveRateIfNo = 0.05,
            SourceKey = "handbook",
        };

    public static DerivativeKind Kind(
        string key, string reagent, string appliesTo = "any", bool colourInforms = false, int reagents = 1)
    {
        var formula = SmilesReader.Read(reagent).Molecule!.Formula;
        return new DerivativeKind
        {
            Key = key,
            Name = key,
            ReagentName = $"reagent of {key}",
            ReagentSmiles = reagent,
            ReagentFormula = formula.ToString(),
            ReagentMolarMass = Math.Round(formula.MolarMass, 2),
            ReagentsPerCarbonyl = reagents,
            WatersPerCarbonyl = 1,
            AppliesTo = appliesTo,
            ColourInforms = colourInforms,
            RecrystallisationSolvents = "ethanol",
            UsualLowCelsius = 20,
            UsualHighCelsius = 300,
            Minutes = 30,
            Hazard = Hazard.Moderate,
            Cautions = "The usual ones.",
            SourceKey = "journal",
        };
    }
}
