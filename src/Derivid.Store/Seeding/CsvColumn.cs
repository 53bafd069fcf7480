namespace Derivid.Store.Seeding;

/// <summary>A column of a table file.</summary>
/// <param name="Name">Its name in the file, such as "molar_mass_g_mol".</param>
/// <param name="Field">Name of the record's property it holds, such as "MolarMass".</param>
public sealed record CsvColumn(string Name, string Field);
