using Derivid.Client.Table;

namespace Derivid.Client.Curation;

/// <summary>A file to load into a proposal.</summary>
/// <param name="List">The list its rows belong to, such as "derivatives".</param>
/// <param name="Content">Its bytes, UTF-8; closed when they are sent.</param>
/// <param name="Format">How it is written, as exports are.</param>
/// <param name="IsWhole">Whether records of the list that the file doesn't hold are to be left out.</param>
public sealed record ImportFile(string List, Stream Content, ExportFormat Format, bool IsWhole = false);
