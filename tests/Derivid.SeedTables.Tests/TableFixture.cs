using Derivid.Core.Compounds;
using Seed = Derivid.Store.Seeding.SeedTables;

namespace Derivid.SeedTables.Tests;

/// <summary>The table as a user gets it: read once from the assembly.</summary>
internal static class TableFixture
{
    public static ReferenceTable Table { get; } = Seed.Load();

    public static IReadOnlyDictionary<string, Parent> Parents { get; } = Table.Parents.ToDictionary(parent => parent.Key);

    public static IReadOnlyDictionary<string, DerivativeKind> Kinds { get; } = Table.Kinds.ToDictionary(kind => kind.Key);

    public static IReadOnlyDictionary<string, Source> Sources { get; } = Table.Sources.ToDictionary(source => source.Key);
}
