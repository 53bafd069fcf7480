using Derivid.Core.Compounds;

namespace Derivid.Core.Tests;

/// <summary>Names as they are compared.</summary>
public sealed class FoldedNameTests
{
    [Theory]
    [InlineData("2,4-Dinitro phenylhydrazine", "24dinitrophenylhydrazine")]
    [InlineData("4'-methyl-(acetophenone)", "4methylacetophenone")]
    [InlineData("(+)-Camphor", "+camphor")]
    [InlineData("formaldehyde, 37 %", "formaldehyde37%")]
    [InlineData(" - ", "")]
    public void WhatIsWrittenOneWayOrAnotherDoesNotCount(string name, string folded) => Assert.Equal(folded, FoldedName.Of(name));

    // By hand: letters put in, taken out and exchanged, one at a time; neighbours that are swapped count once.
    [Theory]
    [InlineData("", "", 0)]
    [InlineData("", "keto", 4)]
    [InlineData("propanone", "propanone", 0)]
    [InlineData("propanone", "propenone", 1)]
    [InlineData("propanone", "propanon", 1)]
    [InlineData("propanone", "porpanone", 1)]
    [InlineData("ba", "acb", 3)]
    [InlineData("kitten", "sitting", 3)]
    public void DistanceCountsSlips(string one, string other, int slips)
    {
        Assert.Equal(slips, FoldedName.Distance(one, other));
        Assert.Equal(slips, FoldedName.Distance(other, one));
    }
}
