using Derivid.Core.Compounds;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests;

/// <summary>What may be taken for a derivative is kept with its source, like the derivatives themselves.</summary>
public sealed class ByProductTests
{
    [Fact]
    public void EveryKeyLeadsSomewhere() => Assert.All(ByProduct.All, row =>
    {
        Assert.True(Kinds.ContainsKey(row.KindKey), row.KindKey);
        Assert.True(row.ParentKey is null || Parents.ContainsKey(row.ParentKey), row.ParentKey);
        Assert.True(Sources.ContainsKey(row.SourceKey), row.SourceKey);
        Assert.True(row.LowCelsius <= row.HighCelsius, row.Substance);
    });

    [Fact]
    public void CrossCheckedIsExactlyWhatAnIndependentSourceConfirms() => Assert.All(ByProduct.All, row =>
    {
        var isConfirmed = ByProduct.All.Any(other => other.KindKey == row.KindKey && other.Substance == row.Substance
            && Sources[other.SourceKey].Family != Sources[row.SourceKey].Family
            && Math.Max(other.LowCelsius, row.LowCelsius) - Math.Min(other.HighCelsius, row.HighCelsius)
                <= TableAgreement.ConfirmsWithinCelsius);
        Assert.Equal(
            isConfirmed ? Verification.CrossChecked
            : Sources[row.SourceKey].HowRead == SourceReading.Memory ? Verification.Recalled : Verification.Read,
            row.Verification);
    });

    [Fact]
    public void EveryKindHasItsReagentOrASaltOfIt() => Assert.All(Table.Kinds, kind =>
        Assert.Contains(ByProduct.All, row => row.KindKey == kind.Key && row.Role != ByProductRole.ByProduct));

    /// <summary>Source: CRC Handbook, CAS Common Chemistry and PubChem, as listed: 248, 258 and 243.9 to 245 °C.</summary>
    [Theory]
    [InlineData(247, true)]
    [InlineData(252, false)]
    [InlineData(256, true)]
    public void HydrazodicarbonamideIsSeenNearItsListedValues(double celsius, bool isNear) =>
        Assert.Equal(isNear, ByProduct.All.Any(row => row.Substance == "hydrazodicarbonamide" && row.MeltsNear(celsius, 3)));
}
