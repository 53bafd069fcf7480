using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Derivid.Hostile.Fuzzing;

/// <summary>One request meant ill, as a line of the corpus holds it.</summary>
/// <remarks>
/// What is random in every run, such as ids, is named: <c>@@course@@</c> stands for the course there is; see <see cref="Prey"/>.
/// <c>@@tag@@</c> in a header is the ETag that <see cref="TagOf"/> has when the request is sent.
/// </remarks>
internal sealed record Attack
{
    private static readonly JsonSerializerOptions Written = new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>The operation it began as.</summary>
    public required string Operation { get; init; }

    /// <summary>Who sends it, one of <see cref="Who.All"/>.</summary>
    public required string By { get; init; }

    public required string Method { get; init; }

    /// <summary>Path and query, percent-encoded.</summary>
    public required string Address { get; init; }

    /// <summary>Missing: null, no ETag is needed.</summary>
    public string? TagOf { get; init; }

    /// <summary>Name and value, in the order sent.</summary>
    public IReadOnlyList<string[]>? Headers { get; init; }

    /// <summary>The body where it is UTF-8. Missing: null, there is none, or see <see cref="Bytes"/>.</summary>
    public string? Text { get; init; }

    /// <summary>The body where it isn't UTF-8.</summary>
    public byte[]? Bytes { get; init; }

    /// <summary>Why a line of the corpus is there. Missing: null, a request of the fuzzer's.</summary>
    public string? Because { get; init; }

    /// <summary>The same with a body.</summary>
    public Attack WithBody(byte[] body)
    {
        try
        {
            return this with { Text = new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(body), Bytes = null };
        }
        catch (DecoderFallbackException)
        {
            return this with { Text = null, Bytes = body };
        }
    }

    /// <summary>Reads a line of the corpus.</summary>
    public static Attack Read(string line) => JsonSerializer.Deserialize<Attack>(line, Written)!;

    /// <summary>Writes a line for the corpus.</summary>
    public string Line() => JsonSerializer.Serialize(this, Written);

    /// <summary>The request itself.</summary>
    /// <param name="server">The service's address.</param>
    /// <param name="prey">What the names stand for.</param>
    /// <param name="tag">What <c>@@tag@@</c> stands for.</param>
    /// <param name="key">The sender's key. Missing: null, none is sent.</param>
    public HttpRequestMessage Message(Uri server, Prey prey, string tag, string? key)
    {
        var request = new HttpRequestMessage(new HttpMethod(Method), AddressIn(server, prey.Named(Address)));
        if ((Bytes ?? (Text is null ? null : Encoding.UTF8.GetBytes(Text))) is { } body)
        {
            // Names are ASCII, so that bytes which are no text can hold them too.
            request.Content = new ByteArrayContent(Encoding.Latin1.GetBytes(prey.Named(Encoding.Latin1.GetString(body))));
        }

        if (key is not null)
        {
            request.Headers.TryAddWithoutValidation("Authorization", "Bearer " + key);
        }

        foreach (var header in Headers ?? [])
        {
            var value = prey.Named(header[1]).Replace("@@tag@@", tag, StringComparison.Ordinal);
            if (!request.Headers.TryAddWithoutValidation(header[0], value))
            {
                request.Content ??= new ByteArrayContent([]);
                request.Content.Headers.TryAddWithoutValidation(header[0], value);
            }
        }

        return request;
    }

    /// <summary>The address to the letter: what is odd about it is meant.</summary>
    public static Uri AddressIn(Uri server, string address) => new(
        string.Create(CultureInfo.InvariantCulture, $"http://{server.Authority}{address}"),
        new UriCreationOptions { DangerousDisablePathAndQueryCanonicalization = true });
}
