namespace Derivid.Api.Table;

/// <summary>A parent with everything the table holds of it.</summary>
/// <param name="TableVersion">Version of the reference table.</param>
/// <param name="Parent">The compound.</param>
/// <param name="Constants">Its boiling points, melting points and enthalpies of fusion.</param>
/// <param name="Derivatives">Its derivative records; sources that disagree are all listed.</param>
public sealed record ParentDetail(
    int TableVersion,
    ParentItem Parent,
    IReadOnlyList<ConstantItem> Constants,
    IReadOnlyList<DerivativeItem> Derivatives)
{
    /// <summary>Gathers what a table holds of a parent.</summary>
    /// <param name="served">The table.</param>
    /// <param name="key">The parent's key.</param>
    public static ParentDetail Of(ServedTable served, string key)
    {
        ArgumentNullException.ThrowIfNull(served);
        var table = served.Table;
        return new ParentDetail(
            table.Version,
            ParentItem.Of(table.Parents.Single(p => p.Key == key)),
            [.. table.Constants.Where(c => c.ParentKey == key).Select(ConstantItem.Of)],
            [.. table.Derivatives.Where(d => d.ParentKey == key).Select(d => DerivativeItem.Of(d, served))]);
    }
}
