namespace Derivid.Api.Http;

/// <summary>One kind of refusal or failure, with the title and status it always has.</summary>
/// <param name="Slug">Stable name; the type is <c>urn:derivid:problem:</c> and this.</param>
/// <param name="Title">Fixed title.</param>
/// <param name="Status">HTTP status code.</param>
/// <param name="Example">A detail such as a reader may meet, for the published document.</param>
public sealed record ProblemType(string Slug, string Title, int Status, string Example)
{
    /// <summary>The problem's type as it stands in the body (RFC 9457).</summary>
    public string Urn => "urn:derivid:problem:" + Slug;
}
