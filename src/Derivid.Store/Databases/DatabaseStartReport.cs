namespace Derivid.Store.Databases;

/// <summary>What a start did to the database.</summary>
/// <param name="MigrationsApplied">Number of migrations run; 0 when the schema was current.</param>
/// <param name="Seeded">Whether table version 1 was stored.</param>
/// <param name="SeedDiffers">
/// Whether the seed tables of this build differ from those stored at the first start. Released versions never change,
/// so the stored ones stand.
/// </param>
public sealed record DatabaseStartReport(int MigrationsApplied, bool Seeded, bool SeedDiffers);
