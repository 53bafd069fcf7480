using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Core.Tests.Teaching.HandOuts;

public sealed class SplitMix64Tests
{
    [Fact]
    public void FirstNumbersAreThePublishedOnes()
    {
        // Source: Rosetta Code, "Pseudo-random numbers/Splitmix64", the task's five integers for seed 1234567.
        ulong[] published =
        [
            6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821,
        ];
        var generator = new SplitMix64(1234567);

        Assert.Equal(published, published.Select(_ => generator.Next()));
    }

    [Fact]
    public void OrderHoldsEveryNumberOnceAndIsReproducible()
    {
        var order = new SplitMix64(7).Order(500);

        Assert.Equal(Enumerable.Range(0, 500), order.Order());
        Assert.Equal(order, new SplitMix64(7).Order(500));
        Assert.NotEqual(order, new SplitMix64(8).Order(500));
    }

    [Fact]
    public void EveryOrderOfThreeComesUpAlike()
    {
        // 6000 draws of 6 orders: 1000 expected, standard deviation √(6000 · 1/6 · 5/6) = 28.9; 4 of them are 116.
        var generator = new SplitMix64(1);
        var counts = Enumerable.Range(0, 6000).CountBy(_ => string.Concat(generator.Order(3))).ToList();

        Assert.Equal(6, counts.Count);
        Assert.All(counts, count => Assert.InRange(count.Value, 884, 1116));
    }

    [Fact]
    public void BoundBelowOneIsRefused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new SplitMix64(1).Below(0));
}
