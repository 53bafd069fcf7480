using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Core.Tests.Teaching.HandOuts;

public sealed class HandOutSeedTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(201)]
    public void EmptyOrOverlongSeedIsRefusedWithoutRepeatingIt(int length)
    {
        var text = new string('s', length);

        var refusal = Assert.Throws<ArgumentException>(() => new HandOutSeed(text, TeachingTable.Secret));

        Assert.Contains("1 to 200 characters", refusal.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("sss", refusal.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(31)]
    [InlineData(33)]
    public void SecretOfAnotherLengthIsRefused(int length) =>
        Assert.Contains(
            "32 bytes", Assert.Throws<ArgumentException>(() => new HandOutSeed("a", new byte[length])).Message, StringComparison.Ordinal);

    [Fact]
    public void TextAloneTellsNothing()
    {
        // Under the secrets of 20 services one memorable text gives 20 different codes; under one secret always the same.
        var codes = Enumerable.Range(0, 20)
            .Select(service => Code("organic", [(byte)service, .. TeachingTable.Secret.AsSpan(1)]))
            .ToList();

        Assert.Equal(20, codes.Distinct().Count());
        Assert.Equal(Code("organic", TeachingTable.Secret), Code("organic", TeachingTable.Secret));
        Assert.NotEqual(Code("organic", TeachingTable.Secret), Code("Organic", TeachingTable.Secret));
    }

    [Fact]
    public void SeedNeverShowsInText() => Assert.Equal("(secret)", new HandOutSeed(TeachingTable.Seed, TeachingTable.Secret).ToString());

    private static string Code(string text, ReadOnlySpan<byte> secret) =>
        HandOutDraw.Draw(
            new Roster([new Seat("ann")]),
            TeachingTable.Laboratory(6),
            new HandOutRules { HandsOutUnidentifiable = true },
            new HandOutSeed(text, secret),
            TeachingTable.Many, TestContext.Current.CancellationToken).HandOut!.Unknowns.Single().Code.Text;
}
