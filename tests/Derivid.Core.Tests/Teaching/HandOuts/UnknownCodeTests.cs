using CsCheck;
using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Core.Tests.Teaching.HandOuts;

public sealed class UnknownCodeTests
{
    private static readonly Gen<string> AnyCode = Gen.ULong.Select(number => UnknownCode.FromNumber(number).Text);

    [Fact]
    public void WorkedCodeMatchesTheArithmeticDoneByHand()
    {
        // Number 5 + 19·18: values 5, 18, 0, 0, 0, 0, 0; sum 1·5 + 2·18 = 41 = 3 mod 19; 8·c = −3 = 16 mod 19 gives c = 2.
        // Values 5, 18, 0 and 2 are the characters D, Y, 4 and 9.
        Assert.Equal("DY44-4449", UnknownCode.FromNumber(5 + (19 * 18)).Text);
    }

    [Fact]
    public void EveryCodeReadsBackHoweverItIsTyped() =>
        AnyCode.Sample(code =>
        {
            foreach (var typed in new[] { code, code.ToLowerInvariant(), code.Replace("-", " "), $" {code.Replace("-", "")} " })
            {
                Assert.True(UnknownCode.TryParse(typed, out var read, out var error), error);
                Assert.Equal(code, read!.Text);
            }
        });

    [Fact]
    public void OneWrongCharacterIsAlwaysFoundOut() =>
        Gen.Select(AnyCode, Gen.Int[0, 7], Gen.Int[0, 18]).Sample((code, place, value) =>
        {
            var characters = code.Replace("-", "").ToCharArray();
            if (characters[place] == UnknownCode.Alphabet[value])
            {
                return;
            }

            characters[place] = UnknownCode.Alphabet[value];
            Assert.False(UnknownCode.TryParse(new string(characters), out _, out _));
        });

    [Fact]
    public void AnyTwoCharactersExchangedAreAlwaysFoundOut() =>
        Gen.Select(AnyCode, Gen.Int[0, 7], Gen.Int[0, 7]).Sample((code, first, second) =>
        {
            var characters = code.Replace("-", "").ToCharArray();
            if (characters[first] == characters[second])
            {
                return;
            }

            (characters[first], characters[second]) = (characters[second], characters[first]);
            Assert.False(UnknownCode.TryParse(new string(characters), out _, out _));
        });

    [Theory]
    [InlineData("DY44", "has 4 characters")]
    [InlineData("DY44-444O", "holds 'O'")]
    [InlineData("DY44-4447", "a character is wrong or two are exchanged")]
    [InlineData(null, "has 0 characters")]
    public void BadCodeIsRefusedWithTheReason(string? text, string reason)
    {
        Assert.False(UnknownCode.TryParse(text, out _, out var error));
        Assert.Contains(reason, error, StringComparison.Ordinal);
    }
}
