using Derivid.Core.Compounds;

namespace Derivid.Api.Table;

/// <summary>Which parents to list.</summary>
public sealed record ParentQuery : PageQuery
{
    /// <summary>Letters that name, synonym, key, CAS number or formula must hold, in either case.</summary>
    public string? Q { get; init; }

    /// <summary>The carbonyl function it brings.</summary>
    public ParentKind? Kind { get; init; }

    /// <summary>Molecular formula in Hill order, exactly.</summary>
    public string? Formula { get; init; }

    /// <summary>A derivative kind (key, name or synonym) the parent must have a record of.</summary>
    public string? DerivativeKind { get; init; }
}
