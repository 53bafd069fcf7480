using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Core.Tests.Teaching.HandOuts;

public sealed class HandOutSeedTests
{
    [Theory]
    [InlineData(15)]
    [InlineData(201)]
    public void GuessableOrOverlongSeedIsRefusedWithoutRepeatingIt(int length)
    {
        var text = new string('s', length);

        var refusal = Assert.Throws<ArgumentException>(() => new HandOutSeed(text));

        Assert.Contains("16 to 200 characters", refusal.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(text, refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void SeedNeverShowsInText() => Assert.Equal("(secret)", new HandOutSeed(TeachingTable.Seed).ToString());
}
