using Derivid.Core.Compounds;

namespace Derivid.Store.Tables;

/// <summary>A sealed, immutable state of the reference table.</summary>
public sealed record TableVersion
{
    /// <summary>The version's number, from 1 without gaps.</summary>
    public required int Number { get; init; }

    /// <summary>When it was released. Units: UTC.</summary>
    public required DateTime ReleasedAtUtc { get; init; }

    /// <summary>Why it was released.</summary>
    public required string Note { get; init; }

    /// <summary>Hash of every row; see <see cref="ReferenceTableHash"/>.</summary>
    public required string ContentHash { get; init; }

    /// <summary>Hash of the manifest of the seed tables it was read from. Missing: null, it was released by curators.</summary>
    public string? SeedHash { get; init; }

    /// <summary>Number of sources.</summary>
    public required int SourceCount { get; init; }

    /// <summary>Number of parents.</summary>
    public required int ParentCount { get; init; }

    /// <summary>Number of derivative kinds.</summary>
    public required int DerivativeKindCount { get; init; }

    /// <summary>Number of derivative records.</summary>
    public required int DerivativeCount { get; init; }

    /// <summary>Number of spot tests.</summary>
    public required int SpotTestCount { get; init; }

    /// <summary>Describes a table about to be stored.</summary>
    /// <param name="table">The table, which carries the version's number.</param>
    /// <param name="note">Why it is released.</param>
    /// <param name="releasedAtUtc">When. Units: UTC.</param>
    /// <param name="seedHash">Hash of the seed tables' manifest. Missing: null.</param>
    internal static TableVersion Of(ReferenceTable table, string note, DateTime releasedAtUtc, string? seedHash) => new()
    {
        Number = table.Version,
        ReleasedAtUtc = releasedAtUtc,
        Note = note,
        ContentHash = ReferenceTableHash.Of(table),
        SeedHash = seedHash,
        SourceCount = table.Sources.Count,
        ParentCount = table.Parents.Count,
        DerivativeKindCount = table.Kinds.Count,
        DerivativeCount = table.Derivatives.Count,
        SpotTestCount = table.SpotTests.Count,
    };
}
