namespace Derivid.Client.Curation;

/// <summary>A parent of the table that may be the one about to be added.</summary>
/// <param name="Parent">Its key.</param>
/// <param name="Name">Its name.</param>
/// <param name="Reason">Why it may be the same.</param>
public sealed record DuplicateItem(string Parent, string Name, string Reason);
