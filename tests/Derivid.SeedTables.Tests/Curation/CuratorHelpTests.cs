using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.SpotTests;
using Derivid.Core.Structures;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests.Curation;

public sealed class CuratorHelpTests
{
    private static readonly Coverage Coverage = Coverage.Of(Table);

    [Fact]
    public void StructureTellsFormulaKindTestsAndDerivatives()
    {
        var computed = ComputedParent.Of(SmilesReader.Read("CCC(=O)C(C)C").Molecule!, null, Table);

        Assert.Equal(("C6H12O", ParentKind.Ketone, 1), (computed.Formula.ToString(), computed.Kind, computed.Environment.CarbonylGroups));
        Assert.Equal(Table.SpotTests.Count, computed.Outcomes.Count);
        Assert.True(Outcome(computed, "tollens") < 0.5);
        Assert.True(Outcome(computed, "iodoform") < 0.5);

        // Worked out by hand: C6H12O + C6H6N4O4 - H2O.
        var derivative = Assert.Single(computed.Derivatives, row => row.Kind.Key == "2-4-dinitrophenylhydrazone");
        Assert.Equal("C12H16N4O4", derivative.Formula.ToString());
        Assert.Equal(280.28, derivative.Formula.MolarMass, 0.01);
        Assert.DoesNotContain(computed.Derivatives, row => row.Kind.Key == "dimedone-derivative");
    }

    [Theory]
    [InlineData("O=C(C)C", null, "propanone")]
    [InlineData("c1ccc(C=O)cc1", null, "benzaldehyde")]
    [InlineData("C1=CC=CC=C1C=O", null, "benzaldehyde")]
    [InlineData("CCCCCCCCCCCCCCCC=O", "Aceto-phenone", "acetophenone")]
    public void LikelyDuplicateIsSuggested(string smiles, string? name, string key) =>
        Assert.Contains(
            ComputedParent.Of(SmilesReader.Read(smiles).Molecule!, name, Table).Duplicates, duplicate => duplicate.Parent.Key == key);

    [Theory]
    [InlineData("CCCC(C)CCCCC(C)CCC=O", "4,9-dimethyldodecanal")]
    [InlineData("CCCC(C)CCCCC(C)CCC=O", null)]
    public void UnlikeParentIsNoDuplicate(string smiles, string? name) =>
        Assert.Empty(ComputedParent.Of(SmilesReader.Read(smiles).Molecule!, name, Table).Duplicates);

    [Fact]
    public void CoverageListsWhatIsMissing()
    {
        Assert.All(Coverage.WithoutSecondDerivative, key =>
            Assert.True(Table.Derivatives.Where(row => row.ParentKey == key).Select(row => row.KindKey).Distinct().Count() < 2));
        Assert.Equal(
            Table.Derivatives.Count(row => row.Verification != Verification.CrossChecked), Coverage.NeverCrossChecked.Count);
        Assert.NotEmpty(Coverage.WithoutSecondDerivative);
    }

    [Fact]
    public void InseparablePairAnswersAlikeAndMeltsAlike()
    {
        var outcomes = new ExpectedOutcomes(Table);
        Assert.NotEmpty(Coverage.InseparablePairs);
        Assert.All(Coverage.InseparablePairs, pair =>
        {
            Assert.Equal(Positives(outcomes, pair.First), Positives(outcomes, pair.Second));
            Assert.All(pair.SharedKinds, kind => Assert.Contains(Records(pair.First, kind), one =>
                Records(pair.Second, kind).Any(other => one.LowCelsius <= other.HighCelsius + 5 && other.LowCelsius <= one.HighCelsius + 5)));
        });
    }

    [Theory]
    [InlineData("propanone", "benzaldehyde")]
    [InlineData("propanone", "acetophenone")]
    public void PairThatATestOrDerivativeSeparatesIsNotListed(string first, string second) =>
        Assert.DoesNotContain(Coverage.InseparablePairs, pair =>
            (pair.First == first && pair.Second == second) || (pair.First == second && pair.Second == first));

    private static double Outcome(ComputedParent computed, string test) =>
        computed.Outcomes.Single(outcome => outcome.Test.Key == test).PositiveRate;

    private static List<Derivative> Records(string parent, string kind) =>
        [.. Table.Derivatives.Where(row => row.ParentKey == parent && row.KindKey == kind)];

    private static IEnumerable<bool> Positives(ExpectedOutcomes outcomes, string key) => outcomes
        .Of(key, CarbonylEnvironment.Of(SmilesReader.Read(Parents[key].Smiles).Molecule!).Features)
        .Select(outcome => outcome.PositiveRate > 0.5);
}
