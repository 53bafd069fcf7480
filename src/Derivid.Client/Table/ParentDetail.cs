namespace Derivid.Client.Table;

/// <summary>A parent with everything the table holds of it.</summary>
/// <param name="TableVersion">Version of the reference table.</param>
/// <param name="Parent">The compound.</param>
/// <param name="Constants">Its boiling points, melting points and enthalpies of fusion.</param>
/// <param name="Derivatives">Its derivative records; sources that disagree are all listed.</param>
public sealed record ParentDetail(
    int TableVersion,
    ParentItem Parent,
    IReadOnlyList<ConstantItem> Constants,
    IReadOnlyList<DerivativeItem> Derivatives);
