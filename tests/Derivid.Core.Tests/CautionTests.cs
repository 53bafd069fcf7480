using Derivid.Core.Compounds;

namespace Derivid.Core.Tests;

/// <summary>What the labels of a shelf warn of.</summary>
public sealed class CautionTests
{
    private const string Always = "Take as flammable and harmful.";

    [Theory]
    [InlineData(null, null, Always)]
    [InlineData("Highly flammable", null, Always + " Some of this shelf: Highly flammable.")]
    [InlineData("Toxic, irritant; vapour harms the eyes", "Irritant", Always + " Some of this shelf: Irritant. Toxic, irritant; vapour harms the eyes.")]
    [InlineData("Highly flammable", "highly flammable; forms peroxides slowly", Always + " Some of this shelf: Highly flammable; forms peroxides slowly.")]
    [InlineData("Corrosive", " corrosive. ", Always + " Some of this shelf: Corrosive.")]
    public void EachIsNamedWholeAndOnce(string? first, string? second, string caution) =>
        Assert.Equal(caution, Caution.OfUnknown([first, second]));

    [Theory]
    [InlineData("")]
    [InlineData(" \t\u00a0\n ")]
    [InlineData(",")]
    [InlineData(" , ; ,, . ")]
    [InlineData("\u2013")]
    public void CellThatSaysNothingIsLeftOut(string cell) => Assert.Equal(Always, Caution.OfUnknown([cell]));

    [Theory]
    [InlineData("Highly flammable, , forms peroxides slowly", "Highly flammable, , forms peroxides slowly.")]
    [InlineData(", ,toxic ;", "Toxic.")]
    [InlineData("toxic\n  by  inhalation", "Toxic by inhalation.")]
    [InlineData("x", "X.")]
    public void CellWithEmptyPartsIsShown(string cell, string sentence) =>
        Assert.Equal($"{Always} Some of this shelf: {sentence}", Caution.OfUnknown([cell]));

    [Theory]
    [InlineData("highly flammable; forms peroxides slowly", "Highly flammable; forms peroxides slowly. " + Caution.Deferral)]
    [InlineData(null, "None is recorded: take it as flammable and harmful. " + Caution.Deferral)]
    public void CompoundWithoutARecordedCautionIsNoHarmlessOne(string? recorded, string shown) =>
        Assert.Equal(shown, Caution.OfCompound(recorded));

    // The order of the shelf is the students' to see; that of the labels must not follow what is handed out.
    [Fact]
    public void OrderOfTheShelfTellsNothing() =>
        Assert.Equal(Caution.OfUnknown(["Toxic", null, "Corrosive"]), Caution.OfUnknown(["Corrosive", "Toxic", null]));
}
