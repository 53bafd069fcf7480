using Derivid.Contracts;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Places in a CSV file, as problems name them.</summary>
public sealed class CsvPlaceTests
{
    [Theory]
    [InlineData("line 1", 1, null)]
    [InlineData("line 12, place", 12, "place")]
    public void PlaceIsWrittenAndReadBack(string text, int line, string? column)
    {
        Assert.Equal(text, new CsvPlace(line, column).ToString());
        Assert.Equal(new CsvPlace(line, column), CsvPlace.Parse(text));
    }

    [Theory]
    [InlineData("")]
    [InlineData("/students/3")]
    [InlineData("?limit")]
    [InlineData("line x")]
    [InlineData("line -1")]
    [InlineData("lines 3")]
    public void OtherPlacesAreNone(string text) => Assert.Null(CsvPlace.Parse(text));
}
