using System.Diagnostics;
using CsCheck;
using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

public sealed class SmilesErrorTests
{
    [Theory]
    [InlineData("", 1, "is empty")]
    [InlineData("C*", 2, "wildcard")]
    [InlineData("CC>>CC", 3, "Reactions")]
    [InlineData("CC(C)=O propanone", 8, "Blanks")]
    [InlineData(" C", 1, "Blanks")]
    [InlineData("CX", 2, "\"X\" is not read here")]
    [InlineData("CSe", 3, "every other atom as in [Se]")]
    [InlineData("C~C", 2, "\"~\" is not read here")]
    [InlineData("Cé", 2, "U+00E9")]
    [InlineData("C\0", 2, "U+0000")]
    [InlineData("C]", 2, "bracket that was not opened")]
    [InlineData("C[CH3", 2, "bracket that opens here is not closed")]
    [InlineData("[]", 2, "No element symbol")]
    [InlineData("[Xx]", 2, "No element symbol")]
    [InlineData("[*]", 2, "No element symbol")]
    [InlineData("[Tc]", 2, "without a standard atomic weight")]
    [InlineData("[1234C]", 5, "No element symbol")]
    [InlineData("[Cn]", 3, "not read from here on")]
    [InlineData("[CH3+16]", 8, "charge")]
    [InlineData("[CH3:]", 6, "class")]
    [InlineData("[C@TH3]", 4, "not read from here on")]
    [InlineData("[C+-]", 4, "not read from here on")]
    [InlineData("[CH33]", 5, "not read from here on")]
    [InlineData("(C)C", 1, "branch opens where an atom is expected")]
    [InlineData("C((C))C", 3, "branch opens where an atom is expected")]
    [InlineData("C=(O)C", 3, "branch opens where an atom is expected")]
    [InlineData("C()C", 3, "branch ends where an atom is expected")]
    [InlineData("C(C=)C", 5, "branch ends where an atom is expected")]
    [InlineData("CC)C", 3, "closes a branch that was not opened")]
    [InlineData("C(CC(C)C", 2, "branch that opens here is not closed")]
    [InlineData("C(CC(C", 5, "branch that opens here is not closed")]
    [InlineData("=CC", 1, "no atom before it")]
    [InlineData("C==C", 3, "no atom before it")]
    [InlineData("C.=O", 3, "no atom before it")]
    [InlineData("CC=", 4, "ends where an atom is expected")]
    [InlineData("CC.", 4, "ends where an atom is expected")]
    [InlineData("CC(", 4, "ends where an atom is expected")]
    [InlineData("C..C", 3, "dot stands where an atom is expected")]
    [InlineData(".C", 1, "dot stands where an atom is expected")]
    [InlineData("C=.C", 3, "dot stands where an atom is expected")]
    [InlineData("1CC1", 1, "ring closure has no atom before it")]
    [InlineData("C(1CC)1", 3, "ring closure has no atom before it")]
    [InlineData("C1CCCC", 2, "Ring closure 1 is not closed")]
    [InlineData("C%12CC2", 2, "Ring closure 12 is not closed")]
    [InlineData("CC%1C", 3, "two digits")]
    [InlineData("CC%", 3, "two digits")]
    [InlineData("C11", 3, "joins an atom to itself")]
    [InlineData("C1C1", 4, "have a bond already")]
    [InlineData("C12CCC12", 8, "have a bond already")]
    [InlineData("C=1CCC-1", 8, "\"=\" bond where it opens and a \"-\" bond where it closes")]
    [InlineData("CC(C)(C)(C)C", 2, "C has 5 bonds, hydrogens included; at most 4")]
    [InlineData("C=C(=C)C", 3, "C has 5 bonds")]
    [InlineData("[CH5]", 1, "C has 5 bonds")]
    [InlineData("CO(C)C", 2, "O has 3 bonds")]
    [InlineData("CFC", 2, "F has 2 bonds")]
    [InlineData("C[N+](C)(C)(C)C", 2, "N with a positive charge has 5 bonds")]
    [InlineData("[CH4-]", 1, "C with a negative charge has 4 bonds")]
    [InlineData("c", 1, "in no ring")]
    [InlineData("Cc", 2, "in no ring")]
    [InlineData("c1ccccc1cC", 9, "in no ring")]
    [InlineData("C:C", 2, "aromatic bond")]
    [InlineData("c1ccccc1:c1ccccc1", 9, "aromatic bond")]
    [InlineData("c1cccc1", 6, "no drawing with alternating single and double bonds")]
    [InlineData("n1cccc1", 6, "[nH]")]
    [InlineData("c1ccccc1c1cccc1", 14, "no drawing")]
    [InlineData("[c]1ccccc1[cH2]", 11, "in no ring")]
    [InlineData("[cH2]1ccccc1", 11, "no drawing with alternating")]
    [InlineData("[n-2]1cccc1", 1, "is not read as aromatic")]
    public void WhatIsNotReadIsNamedWithItsPosition(string smiles, int position, string named)
    {
        SmilesReading reading = SmilesReader.Read(smiles);
        Assert.False(reading.IsRead);
        Assert.Null(reading.Molecule);
        Assert.Contains(named, reading.Error.Sentence, StringComparison.Ordinal);
        Assert.Equal(position, reading.Error.Position);
    }

    [Fact]
    public void MissingTextIsReadLikeAnEmptyOne() => Assert.Equal(SmilesReader.Read(""), SmilesReader.Read(null));

    [Fact]
    public void LengthIsBounded()
    {
        Assert.True(SmilesReader.Read(new string('C', SmilesReader.MaximumLength)).IsRead);
        SmilesReading reading = SmilesReader.Read(new string('C', SmilesReader.MaximumLength + 1));
        Assert.Equal("The structure has 1001 characters; at most 1000 are read.", reading.Error?.Sentence);
    }

    // Shapes that cost most: depth, one huge ring, many ring closures on few atoms, odd lower-case rings, metal hubs.
    public static TheoryData<string> Extremes => new(
        string.Concat(Enumerable.Repeat("C(", 333)) + "C" + string.Concat(Enumerable.Repeat(")", 333)),
        "C1" + new string('C', 995) + "C1",
        "c1" + new string('c', 995) + "c1",
        "c1" + new string('c', 994) + "c1",
        string.Concat(Enumerable.Repeat("c1ccc2cccc2cc1", 70)),
        "[U]" + Numbered("%{0}") + "." + Numbered("C%{0}") + "." + new string('C', 300),
        string.Concat(Enumerable.Repeat("C1=CC=C2C(=C1)C=CC=C2", 47)),
        string.Concat(Enumerable.Repeat("O=C1C=CC(=O)C=C1.", 58)) + "C",
        string.Concat(Enumerable.Repeat("[Pt]12345.[Pt]12345.", 49)) + "C");

    [Theory]
    [MemberData(nameof(Extremes))]
    public void ExtremesAreAnsweredSoon(string smiles)
    {
        Assert.InRange(smiles.Length, 900, SmilesReader.MaximumLength);
        long start = Stopwatch.GetTimestamp();
        SmilesReading reading = SmilesReader.Read(smiles);
        if (reading.IsRead)
        {
            CarbonylEnvironment.Of(reading.Molecule);
        }

        // The bound leaves room for a busy machine and a cold start, not for another order of growth.
        Assert.InRange(Stopwatch.GetElapsedTime(start).TotalSeconds, 0, 2);
    }

    [Fact]
    public void NoTextThrows() => Gen.String.Sample(AssertAnswered, iter: 20_000);

    [Fact]
    public void NoTextOfTheAlphabetThrows() =>
        Gen.OneOf([.. "CNOSPFBIcnosp[]()=#$:/\\.%0123456789+-@HLlrabe* >"]).Array[0, 40]
            .Select(characters => new string(characters))
            .Sample(AssertAnswered, iter: 50_000);

    [Fact]
    public void NoSpoiltStructureThrows() =>
        Gen.Select(
                Gen.OneOf([.. ReferenceStructure.All.Select(row => row.Smiles).Where(smiles => smiles.Length > 4)]),
                Gen.Int[0, 999],
                Gen.OneOf([.. "C()[]=1%c.+"]))
            .Select((smiles, at, character) => Replaced(smiles, at % smiles.Length, character))
            .Sample(AssertAnswered, iter: 20_000);

    private static string Replaced(string text, int at, char character) => $"{text[..at]}{character}{text[(at + 1)..]}";

    private static string Numbered(string format) => string.Concat(Enumerable.Range(10, 90)
        .Select(number => format.Replace("{0}", $"{number}", StringComparison.Ordinal)));

    private static void AssertAnswered(string text)
    {
        SmilesReading reading = SmilesReader.Read(text);
        Assert.NotEqual(reading.Molecule is null, reading.Error is null);
        if (reading.IsRead)
        {
            Assert.NotEmpty(reading.Molecule.Formula.Counts);
            CarbonylEnvironment.Of(reading.Molecule);
        }
        else
        {
            Assert.InRange(reading.Error.Position, 1, text.Length + 1);
            Assert.EndsWith(".", reading.Error.Sentence, StringComparison.Ordinal);
        }
    }
}
