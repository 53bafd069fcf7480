namespace Derivid.Api.Curation;

/// <summary>How the table is curated here.</summary>
/// <param name="SingleCurator">Whether an author may review and release their own proposals, for want of a second person.</param>
public sealed record CurationSettings(bool SingleCurator)
{
    /// <summary>Reads the setting <c>Curation:SingleCurator</c> (default false).</summary>
    /// <param name="settings">All settings.</param>
    public static CurationSettings Read(IConfiguration settings) =>
        new(settings.GetValue("Curation:SingleCurator", false));
}
