using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

public sealed class StandardAtomicWeightsTests
{
    // Source: Prohaska et al., Pure Appl. Chem. 2022, 94, 573, abridged to five significant figures, recalled.
    [Theory]
    [InlineData("H", 1.0080)]
    [InlineData("C", 12.011)]
    [InlineData("N", 14.007)]
    [InlineData("O", 15.999)]
    [InlineData("S", 32.06)]
    [InlineData("Cl", 35.45)]
    [InlineData("Br", 79.904)]
    [InlineData("I", 126.90)]
    [InlineData("Se", 78.971)]
    public void WeightIsTheAbridgedOne(string symbol, double weight) =>
        Assert.Equal(weight, StandardAtomicWeights.Of(symbol));

    [Theory]
    [InlineData("Tc")]
    [InlineData("Po")]
    [InlineData("D")]
    [InlineData("cl")]
    [InlineData("")]
    public void OtherSymbolsHaveNone(string symbol) => Assert.Null(StandardAtomicWeights.Of(symbol));

    // H to U without Tc, Pm, Po, At, Rn, Fr, Ra and Ac: 92 - 8.
    [Fact]
    public void EveryElementWithAWeightIsThere() => Assert.Equal(84, StandardAtomicWeights.Symbols.Count);
}
