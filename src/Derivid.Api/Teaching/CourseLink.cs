namespace Derivid.Api.Teaching;

/// <summary>A course in a list.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">Its name.</param>
/// <param name="IsInvented">Whether class and readings are invented, for showing the service.</param>
public sealed record CourseLink(string Id, string Name, bool IsInvented);
