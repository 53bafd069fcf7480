using CsCheck;
using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

public sealed class StructureClassTests
{
    [Fact]
    public void NamesAreLowerCaseWithHyphens()
    {
        Assert.Equal(
            ["aldehyde", "one-two-dicarbonyl", "primary-or-secondary-alcohol"],
            StructureFeatureNames.Of(
                StructureFeature.PrimaryOrSecondaryAlcohol
                | StructureFeature.Aldehyde
                | StructureFeature.OneTwoDicarbonyl));
        Assert.All(StructureFeatureNames.All, name => Assert.Matches("^[a-z]+(-[a-z]+)*$", name));
    }

    [Fact]
    public void EveryFeatureHasABitAndANameOfItsOwn()
    {
        StructureFeature[] features = [.. Enum.GetValues<StructureFeature>().Where(feature => feature != 0)];
        Assert.All(features, feature => Assert.True(ulong.IsPow2((ulong)feature)));
        Assert.Equal(features.Length, StructureFeatureNames.All.Distinct().Count());
        Assert.All(features, feature =>
        {
            string name = Assert.Single(StructureFeatureNames.Of(feature));
            Assert.True(StructureFeatureNames.TryParse(name, out StructureFeature parsed));
            Assert.Equal(feature, parsed);
        });
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData("Aldehyde")]
    [InlineData("none")]
    [InlineData("aldehyde ")]
    public void OtherNamesAreNoFeature(string? name)
    {
        Assert.False(StructureFeatureNames.TryParse(name, out StructureFeature feature));
        Assert.Equal(StructureFeature.None, feature);
    }

    [Fact]
    public void ClassAsksForAllItsFeatures()
    {
        StructureClass phenolicAldehydes = StructureClass.Parse("aldehyde+phenol");
        Assert.True(phenolicAldehydes.Matches(
            StructureFeature.Aldehyde | StructureFeature.AromaticAldehyde | StructureFeature.Phenol));
        Assert.False(phenolicAldehydes.Matches(StructureFeature.Aldehyde));
        Assert.False(phenolicAldehydes.Matches(StructureFeature.None));
    }

    [Fact]
    public void AnyIsTheDefaultAndMatchesEverything()
    {
        Assert.Equal(default, StructureClass.Parse("any"));
        Assert.Equal("any", StructureClass.Any.ToString());
        Assert.True(StructureClass.Any.Matches(StructureFeature.None));
        Assert.True(StructureClass.Any.Matches(StructureFeature.Ketone));
    }

    [Fact]
    public void OrderOfNamesDoesNotMatter()
    {
        Assert.Equal(StructureClass.Parse("aldehyde+phenol"), StructureClass.Parse("phenol+aldehyde"));
        Assert.Equal("aldehyde+phenol", StructureClass.Parse("phenol+aldehyde").ToString());
    }

    [Theory]
    [InlineData("", "\"\" is no structure feature")]
    [InlineData("aldehyde+", "\"\" is no structure feature")]
    [InlineData("any+aldehyde", "\"any\" is no structure feature")]
    [InlineData("aldehyde+phenole", "\"phenole\" is no structure feature")]
    [InlineData("aldehyde+aldehyde", "\"aldehyde\" is named twice")]
    public void NonsenseIsRefusedByName(string text, string named)
    {
        ArgumentException refusal = Assert.Throws<ArgumentException>(() => StructureClass.Parse(text));
        Assert.Contains(named, refusal.Message, StringComparison.Ordinal);
        Assert.False(StructureClass.TryParse(text, out StructureClass parsed, out _));
        Assert.Equal(StructureClass.Any, parsed);
    }

    [Fact]
    public void TextReadsBackToTheSameClass() =>
        Gen.OneOf([.. StructureFeatureNames.All]).HashSet[1, 5].Sample(names =>
        {
            StructureClass parsed = StructureClass.Parse(string.Join('+', names));
            Assert.Equal(parsed, StructureClass.Parse(parsed.ToString()));
            Assert.True(parsed.Matches(parsed.Required));
        });
}
