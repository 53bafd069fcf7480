using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;
using static Derivid.Core.Tests.Curation.CuratedTable;

namespace Derivid.Core.Tests.Curation;

/// <summary>One change at a time to a table without a fault: the rule that should see it does, no other does, and says where.</summary>
public sealed class TableValidationTests
{
    private const string Propanone = "Error Parent propanone";
    private const string Benzoic = "Error MeltingPointStandard benzoic-acid";
    private const string Semicarbazone = "Error DerivativeKind semicarbazone";
    private const string OfPropanone = "Error Derivative propanone-semicarbazone";

    private static readonly string LongestText = new('x', 2000);
    private static readonly string LongestKey = new('x', 200);

    public static TheoryData<string, Func<ReferenceTable, ReferenceTable>> Texts => new()
    {
        { "", t => Note(t, LongestText) },
        { $"{Propanone} Note", t => Note(t, LongestText + "x") },
        { $"{Propanone} Note", t => Note(t, "") },
        { $"{Propanone} Note", t => Note(t, " a") },
        { $"{Propanone} Note", t => Note(t, "a ") },
        { $"{Propanone} Note", t => Note(t, "a\tb") },
        { $"{Propanone} Note", t => Note(t, "a\u2028b") },
        { $"{Propanone} Note", t => Note(t, "a\u2029b") },
        { "", t => Synonyms(t, "acetone", "dimethyl ketone") },
        { $"{Propanone} Synonyms", t => Synonyms(t, "acetone", "Acetone") },
        { $"{Propanone} Synonyms", t => Synonyms(t, "a;b") },
        { $"{Propanone} Synonyms", t => Synonyms(t, "") },
        { $"{Propanone} Synonyms", t => Synonyms(t, "Propanone") },
        { "", t => StandardKey(t, LongestKey) },
        { "", t => StandardKey(t, "2-naphthol") },
        { $"Error MeltingPointStandard {LongestKey}x Key", t => StandardKey(t, LongestKey + "x") },
        { "Error MeltingPointStandard benzoic acid Key", t => StandardKey(t, "benzoic acid") },
        { "Error MeltingPointStandard benzoic--acid Key", t => StandardKey(t, "benzoic--acid") },
        { "Error MeltingPointStandard -benzoic Key", t => StandardKey(t, "-benzoic") },
        { "Error MeltingPointStandard b\u00e9nzoic Key", t => StandardKey(t, "b\u00e9nzoic") },
        { "Error MeltingPointStandard  Key", t => StandardKey(t, "") },
        { "", t => TestOf(t, x => x with { Minutes = 1e-9 }) },
        { "Error SpotTest tollens Minutes", t => TestOf(t, x => x with { Minutes = 9e-10 }) },
        { "Error SpotTest tollens Minutes", t => TestOf(t, x => x with { Minutes = double.NaN }) },
    };

    public static TheoryData<string, Func<ReferenceTable, ReferenceTable>> SourcesAndParents => new()
    {
        { "Warning Source standards Family", t => SourceOf(t, x => x with { HowRead = SourceReading.Memory }) },
        { "", t => SourceOf(t, x => x with { HowRead = SourceReading.Memory, Family = "handbooks" }) },
        { "", t => SourceOf(t, x => x with { HowRead = SourceReading.AbstractRead }) },
        { $"{Propanone} CasNumber", t => ParentOf(t, x => x with { CasNumber = "67-64-2" }) },
        { $"{Propanone} Smiles", t => ParentOf(t, x => x with { Smiles = "CC(C" }) },
        { $"{Propanone} Formula", t => ParentOf(t, x => x with { Formula = "C3H8O" }) },
        { "", t => ParentOf(t, x => x with { MolarMass = 58.08 + 0.0045 }) },
        { $"{Propanone} MolarMass", t => ParentOf(t, x => x with { MolarMass = 58.08 + 0.006 }) },
        { $"{Propanone} MolarMass", t => ParentOf(t, x => x with { MolarMass = 58.08 - 0.006 }) },
        { $"{Propanone} Kind", t => ParentOf(t, x => x with { Kind = ParentKind.Aldehyde }) },
        { $"{Propanone} Kind", t => ParentOf(t, x => x with { Kind = ParentKind.Both }) },
        { $"{Propanone} Kind", t => ParentOf(t, x => x with { Kind = ParentKind.Masked }) },
        {
            "Error Parent trioxane Kind, Error Derivative trioxane-semicarbazone CarbonylsCondensed",
            t => t.Change<Parent>(RecordKind.Parent, "trioxane", x => x with { Kind = ParentKind.Ketone })
        },
        {
            "",
            t => WithMelting(t, Parent("levulinaldehyde", "CC(=O)CCC=O", "626-96-0", ParentKind.Both))
        },
        {
            "Error Parent levulinaldehyde Kind",
            t => WithMelting(t, Parent("levulinaldehyde", "CC(=O)CCC=O", "626-96-0", ParentKind.Aldehyde))
        },
    };

    public static TheoryData<string, Func<ReferenceTable, ReferenceTable>> Constants => new()
    {
        { "", t => MeltingPoint(t, -200, -200) },
        { "", t => MeltingPoint(t, 450, 450) },
        { "Error ParentConstant benzaldehyde:melting-point:other-journal:-200.1 Low", t => MeltingPoint(t, -200.1, 0) },
        { "Error ParentConstant benzaldehyde:melting-point:other-journal:0 High", t => MeltingPoint(t, 0, 450.1) },
        { "Error ParentConstant benzaldehyde:melting-point:other-journal:1 Low", t => MeltingPoint(t, 1, 0) },
        { "", t => Enthalpy(t, 0) },
        { "", t => Enthalpy(t, 500_000) },
        { "Error ParentConstant propanone:enthalpy-of-fusion:other-journal:-1 Low", t => Enthalpy(t, -1) },
        { "Error ParentConstant propanone:enthalpy-of-fusion:other-journal:500001 High", t => Enthalpy(t, 500_001) },
        { "", t => Pressure(t, 1000) },
        { "", t => Pressure(t, 0.1) },
        { "Error ParentConstant propanone:boiling-point:other-journal:56 PressureKilopascals", t => Pressure(t, 1000.1) },
        { "Error ParentConstant propanone:boiling-point:other-journal:56 PressureKilopascals", t => Pressure(t, 0) },
        { "Error ParentConstant propanone:boiling-point:other-journal:56 PressureKilopascals", t => Pressure(t, null) },
        {
            "Error ParentConstant benzaldehyde:melting-point:other-journal:-26 PressureKilopascals",
            t => t.Change<ParentConstant>(RecordKind.ParentConstant, MeltingKey, x => x with { PressureKilopascals = 101 })
        },
        {
            "Error ParentConstant nobody:melting-point:other-journal:-26 ParentKey",
            t => t.Change<ParentConstant>(RecordKind.ParentConstant, MeltingKey, x => x with { ParentKey = "nobody" })
        },
        {
            "Error ParentConstant benzaldehyde:melting-point:nowhere:-26 SourceKey",
            t => t.Change<ParentConstant>(RecordKind.ParentConstant, MeltingKey, x => x with { SourceKey = "nowhere" })
        },
        {
            "Error ParentConstant benzaldehyde:melting-point:other-journal:-26 Verification",
            t => t.Change<ParentConstant>(RecordKind.ParentConstant, MeltingKey, x => x with { Verification = Verification.Recalled })
        },
        {
            "Error ParentConstant benzaldehyde:melting-point:handbook:-26 Verification",
            t => t.Change<ParentConstant>(RecordKind.ParentConstant, MeltingKey, x => x with { SourceKey = "handbook" })
        },
        { "", t => StandardOf(t, x => x with { ClearPointCelsius = -200 }) },
        { "", t => StandardOf(t, x => x with { ClearPointCelsius = 450 }) },
        { $"{Benzoic} ClearPointCelsius", t => StandardOf(t, x => x with { ClearPointCelsius = 450.1 }) },
        { $"{Benzoic} ClearPointCelsius", t => StandardOf(t, x => x with { ClearPointCelsius = -200.1 }) },
        { $"{Benzoic} CasNumber", t => StandardOf(t, x => x with { CasNumber = "65-85-1" }) },
        { $"{Benzoic} SourceKey, Warning Source standards Key", t => StandardOf(t, x => x with { SourceKey = "nowhere" }) },
        { $"{Benzoic} Verification", t => StandardOf(t, x => x with { Verification = Verification.Recalled }) },
        { "", t => StandardOf(t, x => x with { Verification = Verification.Read }) },
    };

    public static TheoryData<string, Func<ReferenceTable, ReferenceTable>> Kinds => new()
    {
        { $"{Semicarbazone} ReagentSmiles", t => KindOf(t, x => x with { ReagentSmiles = "N(" }) },
        { $"{Semicarbazone} ReagentFormula", t => KindOf(t, x => x with { ReagentFormula = "CH5N3" }) },
        { $"{Semicarbazone} ReagentMolarMass", t => KindOf(t, x => x with { ReagentMolarMass = 75 }) },
        { "", t => KindOf(t, x => x with { ReagentsPerCarbonyl = 4 }) },
        { $"{Semicarbazone} ReagentsPerCarbonyl", t => KindOf(t, x => x with { ReagentsPerCarbonyl = 0 }) },
        { $"{Semicarbazone} ReagentsPerCarbonyl", t => KindOf(t, x => x with { ReagentsPerCarbonyl = 5 }) },
        { "", t => KindOf(t, x => x with { WatersPerCarbonyl = 0 }) },
        { "", t => KindOf(t, x => x with { WatersPerCarbonyl = 4 }) },
        { $"{Semicarbazone} WatersPerCarbonyl", t => KindOf(t, x => x with { WatersPerCarbonyl = -1 }) },
        { $"{Semicarbazone} WatersPerCarbonyl", t => KindOf(t, x => x with { WatersPerCarbonyl = 5 }) },
        { $"{Semicarbazone} AppliesTo", t => KindOf(t, x => x with { AppliesTo = "nice" }) },
        { "", t => KindOf(t, x => x with { UsualLowCelsius = -200, UsualHighCelsius = 450 }) },
        { $"{Semicarbazone} UsualLowCelsius", t => KindOf(t, x => x with { UsualLowCelsius = -200.1 }) },
        { $"{Semicarbazone} UsualLowCelsius", t => KindOf(t, x => x with { UsualHighCelsius = 450.1 }) },
        {
            $"{Semicarbazone} UsualLowCelsius, Warning Derivative benzaldehyde-semicarbazone LowCelsius, Warning Derivative trioxane-semicarbazone LowCelsius",
            t => KindOf(t, x => x with { UsualLowCelsius = 188, UsualHighCelsius = 188 })
        },
        { "", t => KindOf(t, x => x with { ReagentMeltingCelsius = -200 }) },
        { "", t => KindOf(t, x => x with { ReagentMeltingCelsius = 450 }) },
        { $"{Semicarbazone} ReagentMeltingCelsius", t => KindOf(t, x => x with { ReagentMeltingCelsius = 450.1 }) },
        { $"{Semicarbazone} ReagentMeltingCelsius", t => KindOf(t, x => x with { ReagentMeltingCelsius = -200.1 }) },
        { "", t => KindOf(t, x => x with { Minutes = 10_000 }) },
        { $"{Semicarbazone} Minutes", t => KindOf(t, x => x with { Minutes = 0 }) },
        { $"{Semicarbazone} Minutes", t => KindOf(t, x => x with { Minutes = 10_001 }) },
        { $"{Semicarbazone} SourceKey", t => KindOf(t, x => x with { SourceKey = "nowhere" }) },
        { $"{Semicarbazone} ColourInforms", t => KindOf(t, x => x with { ColourInforms = true }) },
        {
            "Error DerivativeKind oxime ColourInforms",
            t => t.Change<DerivativeKind>(RecordKind.DerivativeKind, "oxime", x => x with { ColourInforms = false })
        },
    };

    public static TheoryData<string, Func<ReferenceTable, ReferenceTable>> Derivatives => new()
    {
        { $"{OfPropanone} ParentKey, Warning Parent propanone Key", t => DerivativeOf(t, x => x with { ParentKey = "nobody" }) },
        { $"{OfPropanone} KindKey", t => DerivativeOf(t, x => x with { KindKey = "nothing" }) },
        { "", t => DerivativeOf(t, x => x with { ColourKey = "white" }) },
        { $"{OfPropanone} ColourKey", t => DerivativeOf(t, x => x with { ColourKey = "mauve" }) },
        { $"{OfPropanone} SourceKey", t => DerivativeOf(t, x => x with { SourceKey = "nowhere" }) },
        { $"{OfPropanone} Verification", t => DerivativeOf(t, x => x with { Verification = Verification.Recalled }) },
        { "", t => DerivativeOf(t, x => x with { SourceKey = "handbook", Verification = Verification.Recalled }) },
        { $"{OfPropanone} Verification", t => DerivativeOf(t, x => x with { SourceKey = "handbook" }) },
        { "", t => DerivativeOf(t, x => x with { AsPrinted = "186-188", LowCelsius = 186 }) },
        { $"{OfPropanone} AsPrinted", t => DerivativeOf(t, x => x with { AsPrinted = "186-188" }) },
        { $"{OfPropanone} AsPrinted", t => DerivativeOf(t, x => x with { AsPrinted = "188-190" }) },
        { $"{OfPropanone} AsPrinted", t => DerivativeOf(t, x => x with { AsPrinted = "188 dec." }) },
        { "", t => DerivativeOf(t, x => x with { AsPrinted = "188 dec.", Decomposes = true }) },
        { $"{OfPropanone} AsPrinted", t => DerivativeOf(t, x => x with { Decomposes = true }) },
        { $"{OfPropanone} AsPrinted", t => DerivativeOf(t, x => x with { AsPrinted = "high" }) },
        { $"{OfPropanone} AsPrinted, {OfPropanone} LowCelsius", t => DerivativeOf(t, x => x with { LowCelsius = 189 }) },
        { $"{OfPropanone} CarbonylsCondensed", t => DerivativeOf(t, x => x with { CarbonylsCondensed = 2 }) },
        { $"{OfPropanone} CarbonylsCondensed", t => DerivativeOf(t, x => x with { CarbonylsCondensed = 0 }) },
        { "", t => t.Change<Derivative>(RecordKind.Derivative, "pentane-2-4-dione-oxime", x => x with { CarbonylsCondensed = 2 }) },
        {
            "Error Derivative pentane-2-4-dione-oxime CarbonylsCondensed",
            t => t.Change<Derivative>(RecordKind.Derivative, "pentane-2-4-dione-oxime", x => x with { CarbonylsCondensed = 3 })
        },
        { "", t => t.Change<Derivative>(RecordKind.Derivative, "trioxane-semicarbazone", x => x with { CarbonylsCondensed = 2 }) },
        { $"{OfPropanone} KindKey", t => DerivativeOf(t, x => x with { KindKey = "dimedone-derivative" }) },
        { "", t => DerivativeOf(t, x => x.Melting(20, 300)) },
        { "Warning Derivative propanone-semicarbazone LowCelsius", t => DerivativeOf(t, x => x.Melting(19, 100)) },
        { "Warning Derivative propanone-semicarbazone LowCelsius", t => DerivativeOf(t, x => x.Melting(100, 301)) },
        {
            "Warning Derivative propanone-semicarbazone LowCelsius", t => DerivativeOf(t, x => x.Melting(19, 19) with { Note = "Odd." })
        },
    };

    public static TheoryData<string, Func<ReferenceTable, ReferenceTable>> TestsAndColours => new()
    {
        { "", t => QuestionOf(t, x => x with { ContraryRate = 0.001 }) },
        { "", t => QuestionOf(t, x => x with { ContraryRate = 0.2 }) },
        { "Error SpotTestQuestion aldehyde ContraryRate", t => QuestionOf(t, x => x with { ContraryRate = 0.0009 }) },
        { "Error SpotTestQuestion aldehyde ContraryRate", t => QuestionOf(t, x => x with { ContraryRate = 0.21 }) },
        { "Error SpotTestQuestion aldehyde SourceKey", t => QuestionOf(t, x => x with { SourceKey = "nowhere" }) },
        { "Error SpotTest tollens QuestionKey", t => TestOf(t, x => x with { QuestionKey = "why" }) },
        { "", t => TestOf(t, x => x with { PositiveRateIfYes = 0.5, PositiveRateIfNo = 0.5 }) },
        { "", t => TestOf(t, x => x with { PositiveRateIfYes = 0.98, PositiveRateIfNo = 0.02 }) },
        { "Error SpotTest tollens PositiveRateIfYes", t => TestOf(t, x => x with { PositiveRateIfYes = 0.49 }) },
        { "Error SpotTest tollens PositiveRateIfYes", t => TestOf(t, x => x with { PositiveRateIfYes = 0.99 }) },
        { "Error SpotTest tollens PositiveRateIfNo", t => TestOf(t, x => x with { PositiveRateIfNo = 0.01 }) },
        { "Error SpotTest tollens PositiveRateIfNo", t => TestOf(t, x => x with { PositiveRateIfNo = 0.51 }) },
        { "", t => TestOf(t, x => x with { Minutes = 10_000, ReadWithinMinutes = 10_000 }) },
        { "Error SpotTest tollens Minutes", t => TestOf(t, x => x with { Minutes = 0 }) },
        { "Error SpotTest tollens Minutes", t => TestOf(t, x => x with { Minutes = 10_001 }) },
        { "Error SpotTest tollens ReadWithinMinutes", t => TestOf(t, x => x with { ReadWithinMinutes = 0 }) },
        { "Error SpotTest tollens ReadWithinMinutes", t => TestOf(t, x => x with { ReadWithinMinutes = 10_001 }) },
        { "Error SpotTest tollens SourceKey", t => TestOf(t, x => x with { SourceKey = "nowhere" }) },
        { "", t => ResponseOf(t, x => x with { PositiveRate = 0.02 }) },
        { "", t => ResponseOf(t, x => x with { PositiveRate = 0.98 }) },
        { "Error SpotTestResponse tollens:1 PositiveRate", t => ResponseOf(t, x => x with { PositiveRate = 0.019 }) },
        { "Error SpotTestResponse tollens:1 PositiveRate", t => ResponseOf(t, x => x with { PositiveRate = 0.981 }) },
        { "Error SpotTestResponse tollens:1 SourceKey", t => ResponseOf(t, x => x with { SourceKey = "nowhere" }) },
        { "Error SpotTestResponse tollens:1 AppliesTo", t => ResponseOf(t, x => x with { AppliesTo = "nice" }) },
        { "", t => ResponseOf(t, x => x with { AppliesTo = "parent:benzaldehyde" }) },
        { "Error SpotTestResponse tollens:1 AppliesTo", t => ResponseOf(t, x => x with { AppliesTo = "parent:nobody" }) },
        { "Error SpotTestResponse tollens:0 Order", t => ResponseOf(t, x => x with { Order = 0 }) },
        { "Error SpotTestResponse tollens:3 AppliesTo, Error SpotTestResponse tollens:3 Order, Error SpotTestResponse tollens:2 Order", t => ResponseOf(t, x => x with { Order = 3 }) },
        {
            "Error SpotTestResponse nothing:1 TestKey, Error SpotTestResponse nothing:1 AppliesTo, Error SpotTestResponse tollens:2 Order",
            t => ResponseOf(t, x => x with { TestKey = "nothing" })
        },
        {
            "Error SpotTestResponse tollens:2 AppliesTo",
            t => t.Change<SpotTestResponse>(RecordKind.SpotTestResponse, "tollens:2", x => x with { AppliesTo = "ketone" })
        },
        {
            "Error SpotTestResponse tollens:4 Order",
            t => t.Change<SpotTestResponse>(RecordKind.SpotTestResponse, "tollens:2", x => x with { Order = 4 })
        },
        { "Warning SpotTestResponse tollens:1 AnswersYes", t => ResponseOf(t, x => x with { AnswersYes = false }) },
        { "Error Colour yellow Rank", t => t.Change<Colour>(RecordKind.Colour, "yellow", x => x with { Rank = 2 }) },
        { "Error Colour white Rank, Error Colour yellow Rank", t => t.Change<Colour>(RecordKind.Colour, "white", x => x with { Rank = 5 }) },
        { "", t => ExpectationOf(t, x => x with { Weights = [0.02, 0.98] }) },
        { "Error ColourExpectation oxime:1 Weights", t => ExpectationOf(t, x => x with { Weights = [0.019, 0.981] }) },
        { "Error ColourExpectation oxime:1 Weights", t => ExpectationOf(t, x => x with { Weights = [0.3, 0.6] }) },
        { "Error ColourExpectation oxime:1 Weights", t => ExpectationOf(t, x => x with { Weights = [0.3, 0.71] }) },
        { "Error ColourExpectation oxime:1 Weights", t => ExpectationOf(t, x => x with { Weights = [0.3, 0.3, 0.4] }) },
        { "Error ColourExpectation oxime:1 Weights", t => ExpectationOf(t, x => x with { Weights = [1] }) },
        { "Error ColourExpectation oxime:1 StructureClass", t => ExpectationOf(t, x => x with { StructureClass = "nice" }) },
        { "Error ColourExpectation oxime:0 Order", t => ExpectationOf(t, x => x with { Order = 0 }) },
        { "Error ColourExpectation oxime:1 SourceKey", t => ExpectationOf(t, x => x with { SourceKey = "nowhere" }) },
        {
            "Error ColourExpectation nothing:1 KindKey, Error ColourExpectation nothing:1 StructureClass, Error ColourExpectation oxime:2 Order",
            t => ExpectationOf(t, x => x with { KindKey = "nothing" })
        },
        {
            "Error ColourExpectation oxime:2 StructureClass",
            t => t.Change<ColourExpectation>(RecordKind.ColourExpectation, "oxime:2", x => x with { StructureClass = "ketone" })
        },
    };

    public static TheoryData<string, Func<ReferenceTable, ReferenceTable>> RepetitionAndUse => new()
    {
        { "Error Parent zz CasNumber, Warning Parent zz Smiles", t => WithMelting(t, ParentNamed("zz") with { CasNumber = "67-64-1" }) },
        { "Warning Parent zz Smiles", t => WithMelting(t, ParentNamed("zz")) },
        { "Error Parent zz Name, Warning Parent zz Smiles", t => WithMelting(t, ParentNamed("zz") with { Name = "Acetone" }) },
        { "Error Parent zz Name, Warning Parent zz Smiles", t => WithMelting(t, ParentNamed("zz") with { Synonyms = ["PROPANONE"] }) },
        { "Warning Parent zz Key, Warning Parent zz Smiles", t => t.Add(RecordKind.Parent, ParentNamed("zz")) },
        {
            "Error DerivativeKind semicarbazone Name",
            t => KindOf(t, x => x with { Synonyms = ["Oxime"] })
        },
        { "Error SpotTest tollens Name", t => TestOf(t, x => x with { Name = "Schiff" }) },
        { "Error Colour yellow Name", t => t.Change<Colour>(RecordKind.Colour, "yellow", x => x with { Synonyms = ["White"] }) },
        { "Error Derivative zz Key", t => t.Add(RecordKind.Derivative, t.Derivatives[4] with { Key = "zz" }) },
        { "Error Parent propanone Key, Error Parent propanone Name, Error Parent propanone CasNumber, Warning Parent propanone Smiles", t => t.Add(RecordKind.Parent, t.Parents[2]) },
        { "Error Source journal Key", t => t.Add(RecordKind.Source, t.Sources[1]) },
        { "Error MeltingPointStandard benzoic-acid Key", t => t.Add(RecordKind.MeltingPointStandard, t.Standards[0]) },
        { "Warning DerivativeKind dimedone-derivative Key", t => t.Remove(RecordKind.Derivative, "benzaldehyde-dimedone-derivative") },
        { "Warning Parent propanone Key", t => t.Remove(RecordKind.Derivative, "propanone-semicarbazone") },
        { "Warning SpotTest zz Key", t => t.Add(RecordKind.SpotTest, Test("zz")) },
        {
            "Warning SpotTestQuestion zz Key",
            t => t.Add(RecordKind.SpotTestQuestion, new SpotTestQuestion("zz", "Why?", 0.1, true, "journal"))
        },
        { "Warning Source zz Key", t => t.Add(RecordKind.Source, t.Sources[1] with { Key = "zz" }) },
    };

    [Fact]
    public void SoundTableDrawsNoFinding() => Assert.Empty(TableValidation.Of(Sound));

    [Theory]
    [MemberData(nameof(Texts))]
    [MemberData(nameof(SourcesAndParents))]
    [MemberData(nameof(Constants))]
    [MemberData(nameof(Kinds))]
    [MemberData(nameof(Derivatives))]
    [MemberData(nameof(TestsAndColours))]
    [MemberData(nameof(RepetitionAndUse))]
    public void OnlyTheRuleThatIsBrokenSpeaks(string findings, Func<ReferenceTable, ReferenceTable> change)
    {
        var found = TableValidation.Of(change(Sound));

        Assert.Equal(findings.Split(", ", StringSplitOptions.RemoveEmptyEntries).Order(StringComparer.Ordinal), Places(found));
        Assert.All(found, finding => Assert.NotEmpty(finding.Allowed));
    }

    [Theory]
    [InlineData("journal")]
    [InlineData("other-journal")]
    [InlineData("handbook")]
    public void SourceIsUsedAsLongAsOneRecordOfAnyKindCitesIt(string source)
    {
        var unused = Sound.Add(RecordKind.Source, Sound.Sources.Single(row => row.Key == source) with { Key = "zz" });
        Assert.Equal(["Warning Source zz Key"], Places(TableValidation.Of(unused)));
        Func<ReferenceTable, ReferenceTable>[] citations =
        [
            t => QuestionOf(t, x => x with { SourceKey = "zz" }), t => TestOf(t, x => x with { SourceKey = "zz" }),
            t => ResponseOf(t, x => x with { SourceKey = "zz" }), t => ExpectationOf(t, x => x with { SourceKey = "zz" }),
            t => KindOf(t, x => x with { SourceKey = "zz" }),
        ];

        Assert.All(citations, cite => Assert.DoesNotContain(
            "Warning Source zz Key", Places(TableValidation.Of(cite(unused)))));
    }

    [Fact]
    public void ErrorsComeFirstThenByKindAndKeyAndLongValuesAreCut()
    {
        var found = TableValidation.Of(DerivativeOf(
            ParentOf(Note(Sound, LongestText + "x"), x => x with { CasNumber = "1" }), x => x.Melting(19, 19)));

        Assert.Equal(
            [(FindingSeverity.Error, RecordKind.Parent), (FindingSeverity.Error, RecordKind.Parent), (FindingSeverity.Warning, RecordKind.Derivative)],
            found.Select(finding => (finding.Severity, finding.Kind)));
        Assert.Equal(LongestText[..100] + "…", found.Single(finding => finding.Field == "Note").Value);
        Assert.Equal("19", found[2].Value);
    }

    private const string MeltingKey = "benzaldehyde:melting-point:other-journal:-26";

    private static IEnumerable<string> Places(IEnumerable<TableFinding> found) => found
        .Select(finding => $"{finding.Severity} {finding.Kind} {finding.Key} {finding.Field}")
        .Distinct()
        .Order(StringComparer.Ordinal);

    private static ReferenceTable Note(ReferenceTable table, string note) => ParentOf(table, x => x with { Note = note });

    private static ReferenceTable Synonyms(ReferenceTable table, params string[] synonyms) =>
        ParentOf(table, x => x with { Synonyms = synonyms });

    private static Parent ParentNamed(string key) => Parent(key, "O=C(C)C", "64-17-5", ParentKind.Ketone);

    private static ReferenceTable WithMelting(ReferenceTable table, Parent parent) => table
        .Add(RecordKind.Parent, parent)
        .Add(RecordKind.Derivative, Derivative(parent.Key, "semicarbazone", 150));

    private static ReferenceTable StandardKey(ReferenceTable table, string key) => StandardOf(table, x => x with { Key = key });

    private static ReferenceTable MeltingPoint(ReferenceTable table, double low, double high) =>
        table.Change<ParentConstant>(RecordKind.ParentConstant, MeltingKey, x => x with { Low = low, High = high });

    private static ReferenceTable Enthalpy(ReferenceTable table, double value) => table.Change<ParentConstant>(
        RecordKind.ParentConstant, "propanone:enthalpy-of-fusion:other-journal:5700", x => x with { Low = value, High = value });

    private static ReferenceTable Pressure(ReferenceTable table, double? kilopascals) => table.Change<ParentConstant>(
        RecordKind.ParentConstant, "propanone:boiling-point:other-journal:56", x => x with { PressureKilopascals = kilopascals });

    private static ReferenceTable SourceOf(ReferenceTable table, Func<Source, Source> change) =>
        table.Change(RecordKind.Source, "standards", change);

    private static ReferenceTable ParentOf(ReferenceTable table, Func<Parent, Parent> change) =>
        table.Change(RecordKind.Parent, "propanone", change);

    private static ReferenceTable StandardOf(ReferenceTable table, Func<MeltingPointStandard, MeltingPointStandard> change) =>
        table.Change(RecordKind.MeltingPointStandard, "benzoic-acid", change);

    private static ReferenceTable KindOf(ReferenceTable table, Func<DerivativeKind, DerivativeKind> change) =>
        table.Change(RecordKind.DerivativeKind, "semicarbazone", change);

    private static ReferenceTable DerivativeOf(ReferenceTable table, Func<Derivative, Derivative> change) =>
        table.Change(RecordKind.Derivative, "propanone-semicarbazone", change);

    private static ReferenceTable QuestionOf(ReferenceTable table, Func<SpotTestQuestion, SpotTestQuestion> change) =>
        table.Change(RecordKind.SpotTestQuestion, "aldehyde", change);

    private static ReferenceTable TestOf(ReferenceTable table, Func<SpotTest, SpotTest> change) =>
        table.Change(RecordKind.SpotTest, "tollens", change);

    private static ReferenceTable ResponseOf(ReferenceTable table, Func<SpotTestResponse, SpotTestResponse> change) =>
        table.Change(RecordKind.SpotTestResponse, "tollens:1", change);

    private static ReferenceTable ExpectationOf(ReferenceTable table, Func<ColourExpectation, ColourExpectation> change) =>
        table.Change(RecordKind.ColourExpectation, "oxime:1", change);
}
