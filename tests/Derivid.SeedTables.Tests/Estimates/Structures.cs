using Derivid.Core.Structures;

namespace Derivid.SeedTables.Tests.Estimates;

/// <summary>The parents' structures, read.</summary>
internal static class Structures
{
    public static Molecule Of(string parentKey) => SmilesReader.Read(TableFixture.Parents[parentKey].Smiles).Molecule!;
}
