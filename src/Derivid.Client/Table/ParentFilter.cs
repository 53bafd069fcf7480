namespace Derivid.Client.Table;

/// <summary>Which parents to list.</summary>
public sealed record ParentFilter
{
    /// <summary>Letters that name, synonym, key, CAS number or formula must hold. Missing: any.</summary>
    public string? Mentioning { get; init; }

    /// <summary>The carbonyl function: aldehyde, ketone, both or masked. Missing: any.</summary>
    public string? Kind { get; init; }

    /// <summary>Molecular formula in Hill order, exactly. Missing: any.</summary>
    public string? Formula { get; init; }

    /// <summary>A derivative kind the parent must have a record of. Missing: any, or none.</summary>
    public string? DerivativeKind { get; init; }
}
