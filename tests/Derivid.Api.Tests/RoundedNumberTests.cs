using System.Text.Json;
using Derivid.Contracts;

namespace Derivid.Api.Tests;

public sealed class RoundedNumberTests
{
    private static readonly JsonSerializerOptions Rounding = new() { Converters = { new RoundedNumberConverter() } };

    // Everyday numbers are written digit by digit: it has to be what the framework makes of the rounded number.
    [Fact]
    public void DigitsAreThoseOfTheRoundedNumber()
    {
        var random = new Random(1);
        for (var i = 0; i < 200_000; i++)
        {
            var value = (i % 6) switch
            {
                0 => (random.NextDouble() - 0.5) * Math.Pow(10, random.Next(-12, 18)),
                1 => Math.Round(random.NextDouble() * 1000, random.Next(6)),
                2 => random.Next(-2000, 2000),
                3 => Math.Pow(10, random.Next(-8, 12)) * (1 + ((random.NextDouble() - 0.5) * Math.Pow(10, -random.Next(3, 16)))),
                4 => Math.Round(random.NextDouble() * 10, 8) + 5e-9,
                _ => Math.BitDecrement(Math.Pow(10, random.Next(-6, 10))),
            };
            Assert.Equal(JsonSerializer.Serialize(RoundedNumberConverter.Rounded(value)), JsonSerializer.Serialize(value, Rounding));
        }
    }
}
