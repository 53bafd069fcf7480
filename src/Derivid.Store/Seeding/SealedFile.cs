namespace Derivid.Store.Seeding;

/// <summary>What the manifest says of one table file.</summary>
/// <param name="File">The file's name.</param>
/// <param name="Rows">Rows without the header.</param>
/// <param name="ColumnSums">Sum of each column in which every cell with text is a number, by column name.</param>
/// <param name="Sha256">SHA-256 of the bytes, lower-case hexadecimal.</param>
public sealed record SealedFile(string File, int Rows, SortedDictionary<string, double> ColumnSums, string Sha256);
