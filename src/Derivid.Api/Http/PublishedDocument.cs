using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.Swagger;

namespace Derivid.Api.Http;

/// <summary>The OpenAPI document of the interface: the same for as long as the process runs, so made once.</summary>
/// <remarks>To make it takes a tenth of a second of a processor; whoever asked often enough took all of them, without a key.</remarks>
/// <param name="provider">Makes it.</param>
public sealed class PublishedDocument(IAsyncSwaggerProvider provider)
{
    /// <summary>Its name among documents.</summary>
    internal const string Name = "v1";

    /// <summary>Its address.</summary>
    internal const string Address = "/swagger/" + Name + "/swagger.json";

    private readonly Lazy<Task<(ReadOnlyMemory<byte> Json, string Tag)>> _made = new(() => Task.Run(() => MakeAsync(provider)));

    /// <summary>Answers with it.</summary>
    /// <param name="context">The request.</param>
    /// <param name="document">The document.</param>
    internal static async Task<IResult> GetAsync(HttpContext context, PublishedDocument document)
    {
        var (json, tag) = await document._made.Value;
        return Reply.UnlessKnown(context, tag, () => Reply.Bytes(json, MediaTypes.Json));
    }

    private static async Task<(ReadOnlyMemory<byte> Json, string Tag)> MakeAsync(IAsyncSwaggerProvider provider)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        (await provider.GetSwaggerAsync(Name)).SerializeAsV31(new OpenApiJsonWriter(text));
        var json = Encoding.UTF8.GetBytes(text.ToString());
        return (json, Convert.ToHexStringLower(SHA256.HashData(json))[..16]);
    }
}
