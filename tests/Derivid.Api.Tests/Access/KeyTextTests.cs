using Derivid.Api.Access;

namespace Derivid.Api.Tests.Access;

public sealed class KeyTextTests
{
    [Fact]
    public void RevealedKeyIsReadBack()
    {
        var key = KeyText.New();

        var read = KeyText.Parse(key.Reveal());

        Assert.Equal(key.Id, read?.Id);
        Assert.True(read!.Matches(key.SecretHash()));
        Assert.Equal(32, key.SecretHash().Length);
    }

    [Fact]
    public void KeysDifferInBothParts()
    {
        var keys = Enumerable.Range(0, 1000).Select(_ => KeyText.New()).ToList();

        Assert.Equal(1000, keys.Select(key => key.Id).Distinct().Count());
        Assert.Equal(1000, keys.Select(key => key.Reveal()[21..]).Distinct().Count());
        Assert.False(keys[0].Matches(keys[1].SecretHash()));
    }

    [Fact]
    public void TextOfAKeyLeavesTheSecretOut()
    {
        var key = KeyText.New();

        Assert.Equal("dvd_" + key.Id, $"{key}");
    }

    // Source of the hash: sha256sum over 32 zero bytes (coreutils 9.1).
    [Fact]
    public void HashIsSha256OfTheSecretBytes()
    {
        var key = KeyText.Parse("dvd_0000000000000000_" + new string('0', 64));

        Assert.Equal(
            "66687aadf862bd776c8fc18b8e9f8e20089714856ee233b3902a591d0d5f2925", Convert.ToHexStringLower(key!.SecretHash()));
    }

    [Theory]
    [InlineData("")]
    [InlineData("dvd")]
    [InlineData("dvd__")]
    [InlineData("dvd_0000000000000000_")]
    [InlineData("dvd_0000000000000000_0000000000000000000000000000000000000000000000000000000000000000_0")]
    [InlineData("DVD_0000000000000000_0000000000000000000000000000000000000000000000000000000000000000")]
    [InlineData("dvd_000000000000000g_0000000000000000000000000000000000000000000000000000000000000000")]
    [InlineData("dvd_0000000000000000_000000000000000000000000000000000000000000000000000000000000000A")]
    public void OtherTextIsNoKey(string text)
    {
        Assert.Null(KeyText.Parse(text));
    }
}
