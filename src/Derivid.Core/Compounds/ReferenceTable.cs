using Derivid.Core.Colours;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Compounds;

/// <summary>The whole reference table in one version, as its curators released it.</summary>
/// <remarks>
/// Shape: every list is ordered by key (responses and expectations by test or kind, then order).
/// Thread safety: immutable.
/// </remarks>
public sealed record ReferenceTable
{
    /// <summary>The version's number, from 1.</summary>
    public required int Version { get; init; }

    /// <summary>Everything the other rows cite.</summary>
    public required IReadOnlyList<Source> Sources { get; init; }

    /// <summary>The parent compounds.</summary>
    public required IReadOnlyList<Parent> Parents { get; init; }

    /// <summary>Their boiling points, melting points and enthalpies of fusion.</summary>
    public required IReadOnlyList<ParentConstant> Constants { get; init; }

    /// <summary>The kinds of derivative.</summary>
    public required IReadOnlyList<DerivativeKind> Kinds { get; init; }

    /// <summary>The derivative records.</summary>
    public required IReadOnlyList<Derivative> Derivatives { get; init; }

    /// <summary>The questions spot tests ask.</summary>
    public required IReadOnlyList<SpotTestQuestion> Questions { get; init; }

    /// <summary>The spot tests.</summary>
    public required IReadOnlyList<SpotTest> SpotTests { get; init; }

    /// <summary>How classes of parents answer the tests.</summary>
    public required IReadOnlyList<SpotTestResponse> Responses { get; init; }

    /// <summary>The ordered vocabulary of colours, by rank.</summary>
    public required IReadOnlyList<Colour> Colours { get; init; }

    /// <summary>The colours expected of classes of parents.</summary>
    public required IReadOnlyList<ColourExpectation> ColourExpectations { get; init; }

    /// <summary>The melting-point standards.</summary>
    public required IReadOnlyList<MeltingPointStandard> Standards { get; init; }
}
