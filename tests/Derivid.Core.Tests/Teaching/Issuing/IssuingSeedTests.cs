using Derivid.Core.Teaching.Issuing;

namespace Derivid.Core.Tests.Teaching.Issuing;

public sealed class IssuingSeedTests
{
    [Theory]
    [InlineData(15)]
    [InlineData(201)]
    public void GuessableOrOverlongSeedIsRefusedWithoutRepeatingIt(int length)
    {
        var text = new string('s', length);

        var refusal = Assert.Throws<ArgumentException>(() => new IssuingSeed(text));

        Assert.Contains("16 to 200 characters", refusal.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(text, refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void SeedNeverShowsInText() => Assert.Equal("(secret)", new IssuingSeed(TeachingTable.Seed).ToString());
}
