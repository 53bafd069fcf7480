namespace Derivid.Page.Hosting;

/// <summary>Marks an address that is no component, such as a download, as a view: which it is to headers and sessions.</summary>
internal sealed record ViewMark;
