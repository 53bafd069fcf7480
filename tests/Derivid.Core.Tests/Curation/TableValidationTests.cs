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
    private const string Propanone = "Error parents propanone";
    private const string Benzoic = "Error melting-point-standards benzoic-acid";
    private const string Semicarbazone = "Error derivative-kinds semicarbazone";
    private const string OfPropanone = "Error derivatives propanone-semicarbazone";

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
        { $"Error melting-point-standards {LongestKey}x Key", t => StandardKey(t, LongestKey + "x") },
        { "Error melting-point-standards benzoic acid Key", t => StandardKey(t, "benzoic acid") },
        { "Error melting-point-standards benzoic--acid Key", t => StandardKey(t, "benzoic--acid") },
        { "Error melting-point-standards -benzoic Key", t => StandardKey(t, "-benzoic") },
        { "Error melting-point-standards b\u00e9nzoic Key", t => StandardKey(t, "b\u00e9nzoic") },
        { "Error melting-point-standards  Key", t => StandardKey(t, "") },
        { "", t => TestOf(t, x => x with { Minutes = 1e-9 }) },
        { "Error spot-tests tollens Minutes", t => TestOf(t, x => x with { Minutes = 9e-10 }) },
        { "Error spot-tests tollens Minutes", t => TestOf(t, x => x with { Minutes = double.NaN }) },
    };

    public static TheoryData<string, Func<ReferenceTable, ReferenceTable>> SourcesAndParents => new()
    {
        { "Warning sources standards Family", t => SourceOf(t, x => x with { HowRead = SourceReading.Memory }) },
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
            "Error parents trioxane Kind, Error derivatives trioxane-semicarbazone CarbonylsCondensed",
            t => t.Change<Parent>(RecordKinds.Parents, "trioxane", x => x with { Kind = ParentKind.Ketone })
        },
        {
            "",
            t => WithMelting(t, Parent("levulinaldehyde", "CC(=O)CCC=O", "626-96-0", ParentKind.Both))
        },
        {
            "Error parents levulinaldehyde Kind",
            t => WithMelting(t, Parent("levulinaldehyde", "CC(=O)CCC=O", "626-96-0", ParentKind.Aldehyde))
        },
    };

    public static TheoryData<string, Func<ReferenceTable, ReferenceTable>> Constants => new()
    {
        { "", t => MeltingPoint(t, -200, -200) },
        { "", t => MeltingPoint(t, 450, 450) },
        { "Error parent-constants benzaldehyde:melting-point:other-journal:-200.1 Low", t => MeltingPoint(t, -200.1, 0) },
        { "Error parent-constants benzaldehyde:melting-point:other-journal:0 High", t => MeltingPoint(t, 0, 450.1) },
        { "Error parent-constants benzaldehyde:melting-point:other-journal:1 Low", t => MeltingPoint(t, 1, 0) },
        { "", t => Enthalpy(t, 0) },
        { "", t => Enthalpy(t, 500_000) },
        { "Error parent-constants propanone:enthalpy-of-fusion:other-journal:-1 Low", t => Enthalpy(t, -1) },
        { "Error parent-constants propanone:enthalpy-of-fusion:other-journal:500001 High", t => Enthalpy(t, 500_001) },
        { "", t => Pressure(t, 1000) },
        { "", t => Pressure(t, 0.1) },
        {
            "Warning parent-constants propanone:boiling-point:other-journal:56 Low",
            t => t.Add(RecordKinds.ParentConstants, Constant("propanone", ParentProperty.MeltingPoint, 57, null))
        },
        { "", t => t.Add(RecordKinds.ParentConstants, Constant("propanone", ParentProperty.MeltingPoint, 56, null)) },
        {
            "", // Of two melting points the lower may be right.
            t => t.Add(
                RecordKinds.ParentConstants,
                Constant("propanone", ParentProperty.MeltingPoint, 57, null),
                Constant("propanone", ParentProperty.MeltingPoint, 53, null, "journal"))
        },
        {
            "",
            t => Pressure(t.Add(RecordKinds.ParentConstants, Constant("propanone", ParentProperty.MeltingPoint, 57, null)), 2)
        },
        { "Error parent-constants propanone:boiling-point:other-journal:56 PressureKilopascals", t => Pressure(t, 1000.1) },
        { "Error parent-constants propanone:boiling-point:other-journal:56 PressureKilopascals", t => Pressure(t, 0) },
        { "Error parent-constants propanone:boiling-point:other-journal:56 PressureKilopascals", t => Pressure(t, null) },
        {
            "Error parent-constants benzaldehyde:melting-point:other-journal:-26 PressureKilopascals",
            t => t.Change<ParentConstant>(RecordKinds.ParentConstants, MeltingKey, x => x with { PressureKilopascals = 101 })
        },
        {
            "Error parent-constants nobody:melting-point:other-journal:-26 ParentKey",
            t => t.Change<ParentConstant>(RecordKinds.ParentConstants, MeltingKey, x => x with { ParentKey = "nobody" })
        },
        {
            "Error parent-constants benzaldehyde:melting-point:nowhere:-26 SourceKey",
            t => t.Change<ParentConstant>(RecordKinds.ParentConstants, MeltingKey, x => x with { SourceKey = "nowhere" })
        },
        {
            "Error parent-constants benzaldehyde:melting-point:other-journal:-26 Verification",
            t => t.Change<ParentConstant>(RecordKinds.ParentConstants, MeltingKey, x => x with { Verification = Verification.Recalled })
        },
        {
            "Error parent-constants benzaldehyde:melting-point:handbook:-26 Verification",
            t => t.Change<ParentConstant>(RecordKinds.ParentConstants, MeltingKey, x => x with { SourceKey = "handbook" })
        },
        { "", t => StandardOf(t, x => x with { ClearPointCelsius = -200 }) },
        { "", t => StandardOf(t, x => x with { ClearPointCelsius = 450 }) },
        { $"{Benzoic} ClearPointCelsius", t => StandardOf(t, x => x with { ClearPointCelsius = 450.1 }) },
        { $"{Benzoic} ClearPointCelsius", t => StandardOf(t, x => x with { ClearPointCelsius = -200.1 }) },
        { $"{Benzoic} CasNumber", t => StandardOf(t, x => x with { CasNumber = "65-85-1" }) },
        { $"{Benzoic} SourceKey, Warning sources standards Key", t => StandardOf(t, x => x with { SourceKey = "nowhere" }) },
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
            $"{Semicarbazone} UsualLowCelsius, Warning derivatives benzaldehyde-semicarbazone LowCelsius, Warning derivatives trioxane-semicarbazone LowCelsius",
            t => KindOf(t, x => x with { UsualLowCelsius = 188, UsualHighCelsius = 188 })
        },
        { "", t => KindOf(t, x => x with { ReagentMeltingCelsius = -200 }) },
        { "", t => KindOf(t, x => x with { ReagentMeltingCelsius = 450 }) },
        { $"{Semicarbazone} ReagentMeltingCelsius", t => KindOf(t, x => x with { ReagentMeltingCelsius = 450.1 }) },
        { $"{Semicarbazone} ReagentMeltingCelsius", t => KindOf(t, x => x with { ReagentMeltingCelsius = -200.1 }) },
        { "", t => KindOf(t, x => x with { Minutes = 10_000 }) },
        { $"{Semicarbazone} Minutes", t => KindOf(t, x => x with { Minutes = 0 }) },
        { $"{Semicarbazone} Minutes", t => KindOf(t, x => x with { Minutes = 10_001 }) },
        { "", t => KindOf(t, x => x with { TestKey = "tollens", ClosesTo = ClosedRing.Pyrazole }) },
        { $"{Semicarbazone} TestKey", t => KindOf(t, x => x with { TestKey = "litmus" }) },
        { $"{Semicarbazone} ClosesTo", t => KindOf(t, x => x with { ClosesTo = (ClosedRing)7 }) },
        { $"{Semicarbazone} SourceKey", t => KindOf(t, x => x with { SourceKey = "nowhere" }) },
        { $"{Semicarbazone} ColourInforms", t => KindOf(t, x => x with { ColourInforms = true }) },
        {
            "Error derivative-kinds oxime ColourInforms",
            t => t.Change<DerivativeKind>(RecordKinds.DerivativeKinds, "oxime", x => x with { ColourInforms = false })
        },
    };

    public static TheoryData<string, Func<ReferenceTable, ReferenceTable>> Derivatives => new()
    {
        { $"{OfPropanone} ParentKey, Warning parents propanone Key", t => DerivativeOf(t, x => x with { ParentKey = "nobody" }) },
        { $"{OfPropanone} KindKey", t => DerivativeOf(t, x => x with { KindKey = "nothing" }) },
        { "", t => DerivativeOf(t, x => x with { ColourKey = "white" }) },
        { $"{OfPropanone} ColourKey", t => DerivativeOf(t, x => x with { ColourKey = "mauve" }) },
        { "", t => DerivativeOf(t, x => x with { Form = "alpha" }) },
        { "Warning derivatives propanone-semicarbazone Form", t => DerivativeOf(t, x => x with { Form = "alpha-form" }) },
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
        { "", t => t.Change<Derivative>(RecordKinds.Derivatives, "pentane-2-4-dione-oxime", x => x with { CarbonylsCondensed = 2 }) },
        {
            "Error derivatives pentane-2-4-dione-oxime CarbonylsCondensed",
            t => t.Change<Derivative>(RecordKinds.Derivatives, "pentane-2-4-dione-oxime", x => x with { CarbonylsCondensed = 3 })
        },
        { "", t => t.Change<Derivative>(RecordKinds.Derivatives, "trioxane-semicarbazone", x => x with { CarbonylsCondensed = 2 }) },
        { $"{OfPropanone} KindKey", t => DerivativeOf(t, x => x with { KindKey = "dimedone-derivative" }) },
        { "", t => DerivativeOf(t, x => x.Melting(20, 300)) },
        { "Warning derivatives propanone-semicarbazone LowCelsius", t => DerivativeOf(t, x => x.Melting(19, 100)) },
        { "Warning derivatives propanone-semicarbazone LowCelsius", t => DerivativeOf(t, x => x.Melting(100, 301)) },
        {
            "Warning derivatives propanone-semicarbazone LowCelsius", t => DerivativeOf(t, x => x.Melting(19, 19) with { Note = "Odd." })
        },
        { "", t => DerivativeOf(t, x => x.Melting(19, 19) with { IsUnusual = true }) },
        { "Warning derivatives propanone-semicarbazone IsUnusual", t => DerivativeOf(t, x => x with { IsUnusual = true }) },
    };

    public static TheoryData<string, Func<ReferenceTable, ReferenceTable>> TestsAndColours => new()
    {
        { "", t => QuestionOf(t, x => x with { ContraryRate = 0.001 }) },
        { "", t => QuestionOf(t, x => x with { ContraryRate = 0.2 }) },
        { "Error spot-test-questions aldehyde ContraryRate", t => QuestionOf(t, x => x with { ContraryRate = 0.0009 }) },
        { "Error spot-test-questions aldehyde ContraryRate", t => QuestionOf(t, x => x with { ContraryRate = 0.21 }) },
        { "Error spot-test-questions aldehyde SourceKey", t => QuestionOf(t, x => x with { SourceKey = "nowhere" }) },
        { "Error spot-tests tollens QuestionKey", t => TestOf(t, x => x with { QuestionKey = "why" }) },
        { "", t => TestOf(t, x => x with { PositiveRateIfYes = 0.5, PositiveRateIfNo = 0.5 }) },
        { "", t => TestOf(t, x => x with { PositiveRateIfYes = 0.98, PositiveRateIfNo = 0.02 }) },
        { "Error spot-tests tollens PositiveRateIfYes", t => TestOf(t, x => x with { PositiveRateIfYes = 0.49 }) },
        { "Error spot-tests tollens PositiveRateIfYes", t => TestOf(t, x => x with { PositiveRateIfYes = 0.99 }) },
        { "Error spot-tests tollens PositiveRateIfNo", t => TestOf(t, x => x with { PositiveRateIfNo = 0.01 }) },
        { "Error spot-tests tollens PositiveRateIfNo", t => TestOf(t, x => x with { PositiveRateIfNo = 0.51 }) },
        { "", t => TestOf(t, x => x with { Minutes = 10_000, ReadWithinMinutes = 10_000 }) },
        { "Error spot-tests tollens Minutes", t => TestOf(t, x => x with { Minutes = 0 }) },
        { "Error spot-tests tollens Minutes", t => TestOf(t, x => x with { Minutes = 10_001 }) },
        { "Error spot-tests tollens ReadWithinMinutes", t => TestOf(t, x => x with { ReadWithinMinutes = 0 }) },
        { "Error spot-tests tollens ReadWithinMinutes", t => TestOf(t, x => x with { ReadWithinMinutes = 10_001 }) },
        { "Error spot-tests tollens SourceKey", t => TestOf(t, x => x with { SourceKey = "nowhere" }) },
        { "", t => ResponseOf(t, x => x with { PositiveRate = 0.02 }) },
        { "", t => ResponseOf(t, x => x with { PositiveRate = 0.98 }) },
        { "Error spot-test-responses tollens:1 PositiveRate", t => ResponseOf(t, x => x with { PositiveRate = 0.019 }) },
        { "Error spot-test-responses tollens:1 PositiveRate", t => ResponseOf(t, x => x with { PositiveRate = 0.981 }) },
        { "Error spot-test-responses tollens:1 SourceKey", t => ResponseOf(t, x => x with { SourceKey = "nowhere" }) },
        { "Error spot-test-responses tollens:1 AppliesTo", t => ResponseOf(t, x => x with { AppliesTo = "nice" }) },
        { "", t => ResponseOf(t, x => x with { AppliesTo = "parent:benzaldehyde" }) },
        { "Error spot-test-responses tollens:1 AppliesTo", t => ResponseOf(t, x => x with { AppliesTo = "parent:nobody" }) },
        { "Error spot-test-responses tollens:0 Order", t => ResponseOf(t, x => x with { Order = 0 }) },
        { "Error spot-test-responses tollens:3 AppliesTo, Error spot-test-responses tollens:3 Order, Error spot-test-responses tollens:2 Order", t => ResponseOf(t, x => x with { Order = 3 }) },
        {
            "Error spot-test-responses nothing:1 TestKey, Error spot-test-responses nothing:1 AppliesTo, Error spot-test-responses tollens:2 Order",
            t => ResponseOf(t, x => x with { TestKey = "nothing" })
        },
        {
            "Error spot-test-responses tollens:2 AppliesTo",
            t => t.Change<SpotTestResponse>(RecordKinds.SpotTestResponses, "tollens:2", x => x with { AppliesTo = "ketone" })
        },
        {
            "Error spot-test-responses tollens:4 Order",
            t => t.Change<SpotTestResponse>(RecordKinds.SpotTestResponses, "tollens:2", x => x with { Order = 4 })
        },
        { "Warning spot-test-responses tollens:1 AnswersYes", t => ResponseOf(t, x => x with { AnswersYes = false }) },
        { "Error colours yellow Rank", t => t.Change<Colour>(RecordKinds.Colours, "yellow", x => x with { Rank = 2 }) },
        { "Error colours white Rank, Error colours yellow Rank", t => t.Change<Colour>(RecordKinds.Colours, "white", x => x with { Rank = 5 }) },
        { "", t => t.Add(RecordKinds.Colours, new Colour("clear", "clear", null, ["colourless"])) },
        {
            "Error colour-expectations oxime:1 Weights, Error colour-expectations oxime:2 Weights",
            t => t.Change<Colour>(RecordKinds.Colours, "yellow", x => x with { Rank = null })
        },
        { "", t => ExpectationOf(t, x => x with { Weights = [0.02, 0.98] }) },
        { "Error colour-expectations oxime:1 Weights", t => ExpectationOf(t, x => x with { Weights = [0.019, 0.981] }) },
        { "Error colour-expectations oxime:1 Weights", t => ExpectationOf(t, x => x with { Weights = [0.3, 0.6] }) },
        { "Error colour-expectations oxime:1 Weights", t => ExpectationOf(t, x => x with { Weights = [0.3, 0.71] }) },
        { "Error colour-expectations oxime:1 Weights", t => ExpectationOf(t, x => x with { Weights = [0.3, 0.3, 0.4] }) },
        { "Error colour-expectations oxime:1 Weights", t => ExpectationOf(t, x => x with { Weights = [1] }) },
        { "Error colour-expectations oxime:1 StructureClass", t => ExpectationOf(t, x => x with { StructureClass = "nice" }) },
        { "Error colour-expectations oxime:0 Order", t => ExpectationOf(t, x => x with { Order = 0 }) },
        { "Error colour-expectations oxime:1 SourceKey", t => ExpectationOf(t, x => x with { SourceKey = "nowhere" }) },
        {
            "Error colour-expectations nothing:1 KindKey, Error colour-expectations nothing:1 StructureClass, Error colour-expectations oxime:2 Order",
            t => ExpectationOf(t, x => x with { KindKey = "nothing" })
        },
        {
            "Error colour-expectations oxime:2 StructureClass",
            t => t.Change<ColourExpectation>(RecordKinds.ColourExpectations, "oxime:2", x => x with { StructureClass = "ketone" })
        },
    };

    public static TheoryData<string, Func<ReferenceTable, ReferenceTable>> RepetitionAndUse => new()
    {
        { "Error parents zz CasNumber, Warning parents zz Smiles", t => WithMelting(t, ParentNamed("zz") with { CasNumber = "67-64-1" }) },
        { "Warning parents zz Smiles", t => WithMelting(t, ParentNamed("zz")) },
        { "Error parents zz Name, Warning parents zz Smiles", t => WithMelting(t, ParentNamed("zz") with { Name = "Acetone" }) },
        { "Error parents zz Name, Warning parents zz Smiles", t => WithMelting(t, ParentNamed("zz") with { Synonyms = ["PROPANONE"] }) },
        { "Warning parents zz Key, Warning parents zz Smiles", t => t.Add(RecordKinds.Parents, ParentNamed("zz")) },
        {
            "Error derivative-kinds semicarbazone Name",
            t => KindOf(t, x => x with { Synonyms = ["Oxime"] })
        },
        { "Error spot-tests tollens Name", t => TestOf(t, x => x with { Name = "Schiff" }) },
        { "Error colours yellow Name", t => t.Change<Colour>(RecordKinds.Colours, "yellow", x => x with { Synonyms = ["White"] }) },
        { "Error derivatives zz Key", t => t.Add(RecordKinds.Derivatives, t.Derivatives[4] with { Key = "zz" }) },
        { "Error parents propanone Key, Error parents propanone Name, Error parents propanone CasNumber, Warning parents propanone Smiles", t => t.Add(RecordKinds.Parents, t.Parents[2]) },
        { "Error sources journal Key", t => t.Add(RecordKinds.Sources, t.Sources[1]) },
        { "Error melting-point-standards benzoic-acid Key", t => t.Add(RecordKinds.MeltingPointStandards, t.Standards[0]) },
        { "Warning derivative-kinds dimedone-derivative Key", t => t.Remove(RecordKinds.Derivatives, "benzaldehyde-dimedone-derivative") },
        { "Warning parents propanone Key", t => t.Remove(RecordKinds.Derivatives, "propanone-semicarbazone") },
        { "Warning spot-tests zz Key", t => t.Add(RecordKinds.SpotTests, Test("zz")) },
        {
            "Warning spot-test-questions zz Key",
            t => t.Add(RecordKinds.SpotTestQuestions, new SpotTestQuestion("zz", "Why?", 0.1, true, "journal"))
        },
        { "Warning sources zz Key", t => t.Add(RecordKinds.Sources, t.Sources[1] with { Key = "zz" }) },
    };

    [Fact]
    public async Task WhoHasGoneIsNotWaitedForAndWhatIsEnoughIsEnough()
    {
        using var gone = new CancellationTokenSource();
        await gone.CancelAsync();
        var broken = Sound with { Parents = [.. Sound.Parents.Select(parent => parent with { Smiles = "no structure" })] };

        Assert.Throws<OperationCanceledException>(() => TableValidation.Of(Sound, null, gone.Token));
        Assert.Throws<OperationCanceledException>(() => TableValidation.ErrorsOf(Sound, 1, gone.Token));
        Assert.True(TableValidation.ErrorsOf(broken).Count > 1);
        Assert.Single(TableValidation.ErrorsOf(broken, 1, TestContext.Current.CancellationToken));
    }

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
        var unused = Sound.Add(RecordKinds.Sources, Sound.Sources.Single(row => row.Key == source) with { Key = "zz" });
        Assert.Equal(["Warning sources zz Key"], Places(TableValidation.Of(unused)));
        Func<ReferenceTable, ReferenceTable>[] citations =
        [
            t => QuestionOf(t, x => x with { SourceKey = "zz" }), t => TestOf(t, x => x with { SourceKey = "zz" }),
            t => ResponseOf(t, x => x with { SourceKey = "zz" }), t => ExpectationOf(t, x => x with { SourceKey = "zz" }),
            t => KindOf(t, x => x with { SourceKey = "zz" }),
        ];

        Assert.All(citations, cite => Assert.DoesNotContain(
            "Warning sources zz Key", Places(TableValidation.Of(cite(unused)))));
    }

    /// <summary>Acetophenone boils at 202 °C, and near 79 °C under a fiftieth or so of the pressure. Recalled.</summary>
    [Theory]
    [InlineData(202, 101.325, false)]
    [InlineData(79, 1.33, false)]
    [InlineData(79, 101.325, true)]
    [InlineData(330, 101.325, true)]
    public void BoilingPointFarFromWhatTheStructureSuggestsIsWarnedOf(double celsius, double kilopascals, bool isWarnedOf)
    {
        var table = WithMelting(Sound, Parent("acetophenone", "CC(=O)c1ccccc1", "98-86-2", ParentKind.Ketone))
            .Add(RecordKinds.ParentConstants, Constant("acetophenone", ParentProperty.BoilingPoint, celsius, kilopascals));

        var found = TableValidation.Of(table);

        Assert.Equal(
            isWarnedOf ? [FormattableString.Invariant($"Warning parent-constants acetophenone:boiling-point:other-journal:{celsius} High")] : [],
            Places(found));
        Assert.All(found, finding => Assert.Contains("which the structure suggests", finding.Allowed, StringComparison.Ordinal));
    }

    [Fact]
    public void ErrorsComeFirstThenByKindAndKeyAndLongValuesAreCut()
    {
        var found = TableValidation.Of(DerivativeOf(
            ParentOf(Note(Sound, LongestText + "x"), x => x with { CasNumber = "1" }), x => x.Melting(19, 19)));

        Assert.Equal(
            [(FindingSeverity.Error, RecordKinds.Parents), (FindingSeverity.Error, RecordKinds.Parents), (FindingSeverity.Warning, RecordKinds.Derivatives)],
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
        .Add(RecordKinds.Parents, parent)
        .Add(RecordKinds.Derivatives, Derivative(parent.Key, "semicarbazone", 150));

    private static ReferenceTable StandardKey(ReferenceTable table, string key) => StandardOf(table, x => x with { Key = key });

    private static ReferenceTable MeltingPoint(ReferenceTable table, double low, double high) =>
        table.Change<ParentConstant>(RecordKinds.ParentConstants, MeltingKey, x => x with { Low = low, High = high });

    private static ReferenceTable Enthalpy(ReferenceTable table, double value) => table.Change<ParentConstant>(
        RecordKinds.ParentConstants, "propanone:enthalpy-of-fusion:other-journal:5700", x => x with { Low = value, High = value });

    private static ReferenceTable Pressure(ReferenceTable table, double? kilopascals) => table.Change<ParentConstant>(
        RecordKinds.ParentConstants, "propanone:boiling-point:other-journal:56", x => x with { PressureKilopascals = kilopascals });

    private static ReferenceTable SourceOf(ReferenceTable table, Func<Source, Source> change) =>
        table.Change(RecordKinds.Sources, "standards", change);

    private static ReferenceTable ParentOf(ReferenceTable table, Func<Parent, Parent> change) =>
        table.Change(RecordKinds.Parents, "propanone", change);

    private static ReferenceTable StandardOf(ReferenceTable table, Func<MeltingPointStandard, MeltingPointStandard> change) =>
        table.Change(RecordKinds.MeltingPointStandards, "benzoic-acid", change);

    private static ReferenceTable KindOf(ReferenceTable table, Func<DerivativeKind, DerivativeKind> change) =>
        table.Change(RecordKinds.DerivativeKinds, "semicarbazone", change);

    private static ReferenceTable DerivativeOf(ReferenceTable table, Func<Derivative, Derivative> change) =>
        table.Change(RecordKinds.Derivatives, "propanone-semicarbazone", change);

    private static ReferenceTable QuestionOf(ReferenceTable table, Func<SpotTestQuestion, SpotTestQuestion> change) =>
        table.Change(RecordKinds.SpotTestQuestions, "aldehyde", change);

    private static ReferenceTable TestOf(ReferenceTable table, Func<SpotTest, SpotTest> change) =>
        table.Change(RecordKinds.SpotTests, "tollens", change);

    private static ReferenceTable ResponseOf(ReferenceTable table, Func<SpotTestResponse, SpotTestResponse> change) =>
        table.Change(RecordKinds.SpotTestResponses, "tollens:1", change);

    private static ReferenceTable ExpectationOf(ReferenceTable table, Func<ColourExpectation, ColourExpectation> change) =>
        table.Change(RecordKinds.ColourExpectations, "oxime:1", change);
}
