namespace Derivid.Api.Http;

/// <summary>Says what a part of an endpoint's address is.</summary>
/// <param name="Name">Its name in the address.</param>
/// <param name="Description">What it is.</param>
public sealed record PathParameter(string Name, string Description);
