using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests.Curation;

/// <summary>One thing wrong with the seed tables at a time: the rule that should see it does, and says where.</summary>
public sealed class ValidationRulesTests
{
    private static readonly Dictionary<string, Func<ReferenceTable, ReferenceTable>> Faults = new()
    {
        ["Error parents propanone CasNumber"] = t => Parent(t, p => p with { CasNumber = "67-64-2" }),
        ["Error parents propanone Smiles"] = t => Parent(t, p => p with { Smiles = "CC(C" }),
        ["Error parents propanone Formula"] = t => Parent(t, p => p with { Formula = "C3H8O" }),
        ["Error parents propanone MolarMass"] = t => Parent(t, p => p with { MolarMass = 58.1 }),
        ["Error parents propanone Kind"] = t => Parent(t, p => p with { Kind = ParentKind.Aldehyde }),
        ["Error parents propanone Synonyms"] = t => Parent(t, p => p with { Synonyms = ["a;b"] }),
        ["Error parents propanone Note"] = t => Parent(t, p => p with { Note = "two\nlines" }),
        ["Error parents zz Name"] = t => t with { Parents = [.. t.Parents, Parents["propanone"] with { Key = "zz", CasNumber = "64-17-5" }] },
        ["Error parents zz CasNumber"] = t => t with { Parents = [.. t.Parents, Parents["propanone"] with { Key = "zz", Name = "zz", Synonyms = [] }] },
        ["Warning parents zz Smiles"] = t => t with
        {
            Parents = [.. t.Parents, Parents["propanone"] with { Key = "zz", Name = "zz", Synonyms = [], Smiles = "O=C(C)C", CasNumber = "64-17-5" }],
        },
        ["Warning parents zz Key"] = t => t with
        {
            Parents = [.. t.Parents, Parents["propanone"] with { Key = "zz", Name = "zz", Synonyms = [], CasNumber = "64-17-5" }],
        },
        ["Warning parents propanone Name"] = t => Parent(t, p => p with { Name = "<i>propanone</i>" }),
        ["Warning parents propanone Synonyms"] = t => Parent(t, p => p with { Synonyms = [new string('a', 380)] }),
        ["Warning parents propanone CasNumber"] = t => Parent(t, p => p with { CasNumber = null }),
        ["Warning parents propanone Smiles"] = t => Parent(t, p => p with { Smiles = "CCC" }),
        ["Warning sources zz Key"] = t => t with { Sources = [.. t.Sources, Sources["nist-webbook"] with { Key = "zz" }] },
        ["Error parents propanone Key"] = t => t with { Parents = [.. t.Parents, Parents["propanone"]] },
        ["Error derivatives d SourceKey"] = t => Derivative(t, d => d with { SourceKey = "nowhere" }),
        ["Error derivatives d ParentKey"] = t => Derivative(t, d => d with { ParentKey = "nobody" }),
        ["Error derivatives d KindKey"] = t => Derivative(t, d => d with { KindKey = "nothing" }),
        ["Error derivatives d ColourKey"] = t => Derivative(t, d => d with { ColourKey = "mauve" }),
        ["Error derivatives d LowCelsius"] = t => Derivative(t, d => d with { LowCelsius = 190, AsPrinted = "190-187" }),
        ["Error derivatives d AsPrinted"] = t => Derivative(t, d => d with { AsPrinted = "188" }),
        ["Error derivatives d CarbonylsCondensed"] = t => Derivative(t, d => d with { CarbonylsCondensed = 2 }),
        ["Error derivatives d Verification"] = t => Derivative(t, d => d with
        {
            Verification = Sources[d.SourceKey].HowRead == SourceReading.Memory ? Verification.Read : Verification.Recalled,
        }),
        ["Error derivatives d MeasuredBy"] = t => Derivative(t, d => d with { MeasuredBy = "somebody" }),
        ["Error derivatives d Instrument"] = t => Derivative(t, d => d with { Instrument = "a thermometer" }),
        ["Error derivatives d Determinations"] = t => Derivative(t, d => d with { Determinations = 3 }),
        ["Error derivatives d MeanCelsius"] = t => Derivative(t, d => d with { MeanCelsius = 187 }),
        ["Error derivatives d SpreadCelsius"] = t => Derivative(t, d => d with { SpreadCelsius = 0.1 }),
        ["Warning derivatives d Form"] = t => Derivative(t, d => d with { Form = "trans" }),
        ["Error derivatives zz Key"] = t => t with { Derivatives = [.. t.Derivatives, Semicarbazone with { Key = "zz" }] },
        ["Warning derivatives d LowCelsius"] = t => Derivative(t, d => d with
        {
            LowCelsius = 20,
            HighCelsius = 20,
            AsPrinted = "20",
            Note = null,
        }),
        ["Warning derivatives d IsUnusual"] = t => Derivative(t, d => d with { IsUnusual = true }),
        ["Warning derivatives zz LowCelsius"] = t => t with
        {
            Derivatives = [.. t.Derivatives, Semicarbazone with { Key = "zz", LowCelsius = 170, HighCelsius = 170, AsPrinted = "170" }],
        },
        ["Warning parent-constants benzil:boiling-point:nist-webbook:90 Low"] = t => BoilingPoint(t, "benzil", 90),
        ["Warning parent-constants propanone:boiling-point:nist-webbook:130 High"] = t => BoilingPoint(t, "propanone", 130),
        ["Error spot-test-responses tollens:0 Order"] = t => t with
        {
            Responses = [.. t.Responses.Select(r => r.TestKey == "tollens" && r.Order == 1 ? r with { Order = 0 } : r)],
        },
        ["Error spot-test-responses tollens:1 PositiveRate"] = t => t with
        {
            Responses = [.. t.Responses.Select(r => r.TestKey == "tollens" && r.Order == 1 ? r with { PositiveRate = 1 } : r)],
        },
        ["Error colours orange Rank"] = t => t with { Colours = [.. t.Colours.Select(c => c.Key == "orange" ? c with { Rank = 50 } : c)] },
        ["Error derivative-kinds semicarbazone ReagentFormula"] = t => Kind(t, k => k with { ReagentFormula = "CH5N3" }),
        ["Error derivative-kinds semicarbazone UsualLowCelsius"] = t => Kind(t, k => k with { UsualLowCelsius = 400 }),
        ["Error derivative-kinds semicarbazone AppliesTo"] = t => Kind(t, k => k with { AppliesTo = "nice" }),
        ["Error derivative-kinds semicarbazone ClosesTo"] = t => Kind(t, k => k with { ClosesTo = (ClosedRing)9 }),
        ["Error derivative-kinds semicarbazone TestKey"] = t => Kind(t, k => k with { TestKey = "2,4-dinitrophenylhydrazine test" }),
        ["Error derivative-kinds semicarbazone ColourInforms"] = t => Kind(t, k => k with { ColourInforms = true }),
    };

    private static readonly IReadOnlyList<TableFinding> Before = TableValidation.Of(Table.Ordered());

    public static TheoryData<string> Names => [.. Faults.Keys];

    private static Derivative Semicarbazone => Table.Derivatives.First(row =>
        row.ParentKey == "propanone" && row.KindKey == "semicarbazone" && row.LowCelsius == 187);

    [Theory]
    [MemberData(nameof(Names))]
    public void FaultIsFoundWhereItIs(string name)
    {
        var wanted = name.Replace(" d ", $" {Semicarbazone.Key} ", StringComparison.Ordinal);

        var found = TableValidation.Of(Faults[name](Table).Ordered());

        var mine = found.Except(Before).FirstOrDefault(finding =>
            $"{finding.Severity} {finding.Kind} {finding.Key} {finding.Field}" == wanted);
        Assert.True(mine is not null, string.Join('\n', found.Except(Before)));
        Assert.NotEmpty(mine.Allowed);
    }

    private static ReferenceTable Parent(ReferenceTable table, Func<Parent, Parent> change) =>
        table with { Parents = [.. table.Parents.Select(row => row.Key == "propanone" ? change(row) : row)] };

    private static ReferenceTable Kind(ReferenceTable table, Func<DerivativeKind, DerivativeKind> change) =>
        table with { Kinds = [.. table.Kinds.Select(row => row.Key == "semicarbazone" ? change(row) : row)] };

    private static ReferenceTable BoilingPoint(ReferenceTable table, string parentKey, double celsius) => table with
    {
        Constants =
        [
            .. table.Constants,
            new()
            {
                ParentKey = parentKey,
                Property = ParentProperty.BoilingPoint,
                Low = celsius,
                High = celsius,
                PressureKilopascals = 101.325,
                SourceKey = "nist-webbook",
                Verification = Verification.Read,
            },
        ],
    };

    private static ReferenceTable Derivative(ReferenceTable table, Func<Derivative, Derivative> change)
    {
        var key = Semicarbazone.Key;
        return table with { Derivatives = [.. table.Derivatives.Select(row => row.Key == key ? change(row) : row)] };
    }
}
