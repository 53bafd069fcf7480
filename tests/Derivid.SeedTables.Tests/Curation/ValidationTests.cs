using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests.Curation;

/// <summary>The rules that hold for a curator's proposal hold for the seed tables.</summary>
public sealed class ValidationTests
{
    private static readonly IReadOnlyList<TableFinding> Findings = TableValidation.Of(Table.Ordered());

    [Fact]
    public void SeedTablesHaveNoErrors() =>
        Assert.DoesNotContain(Findings, finding => finding.Severity == FindingSeverity.Error);

    [Fact]
    public void WarningsAreClashesAndSourcesCitedForWhatWasLeftOut() =>
        Assert.All(Findings, finding => Assert.True(
            finding.Field is nameof(Derivative.LowCelsius) or nameof(ParentConstant.Low)
                ? finding.Allowed.Contains("look at both sources", StringComparison.Ordinal)
                : finding.Kind == RecordKinds.Sources && finding.Allowed == "something that cites it",
            finding.ToString()));
}
