using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Net.Mime;
using System.Runtime.CompilerServices;
using System.Text.Json;
using Derivid.Contracts;

namespace Derivid.Client;

/// <summary>Sends requests, and turns problems into exceptions.</summary>
internal sealed class Wire(HttpClient http)
{
    public const string ReasonHeader = "Derivid-Reason";

    private const string Root = "api/v1/";

    public async Task<T> GetAsync<T>(string address, CancellationToken cancellationToken) =>
        await SendAsync<T>(new HttpRequestMessage(HttpMethod.Get, Root + address), cancellationToken);

    public async Task<string> GetTextAsync(string address, CancellationToken cancellationToken)
    {
        using var response = await SendAsync(new HttpRequestMessage(HttpMethod.Get, Root + address), cancellationToken);
        return await response.Content.ReadAsStringAsync(cancellationToken);
    }

    public async Task<T> PostAsync<T>(
        string address, object? body, string? reason, CancellationToken cancellationToken) =>
        await SendAsync<T>(Request(HttpMethod.Post, address, body, reason), cancellationToken);

    public async Task<T> SendAsync<T>(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        using var response = await SendAsync(request, cancellationToken);
        return await ReadAsync<T>(response, cancellationToken);
    }

    /// <summary>Sends, and keeps the answer's entity tag.</summary>
    public async Task<Versioned<T>> SendVersionedAsync<T>(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        using var response = await SendAsync(request, cancellationToken);
        return new Versioned<T>(
            await ReadAsync<T>(response, cancellationToken), response.Headers.ETag?.ToString() ?? "");
    }

    /// <summary>The rows of all pages, one page fetched at a time.</summary>
    public async IAsyncEnumerable<T> ListAsync<T>(
        string address, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        // A page of the table says more; where it goes on is what matters here.
        var next = Absolute(Root + address);
        while (next is not null)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, next);
            var page = await SendAsync<RowPage<T>>(request, cancellationToken);
            foreach (var item in page.Items)
            {
                yield return item;
            }

            next = page.Next is null ? null : Following(next, page.Next);
        }
    }

    /// <summary>Sends; the answer's headers are read, its body isn't yet.</summary>
    /// <exception cref="DerividException">The answer is a problem.</exception>
    public async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        using (request)
        {
            var response = await http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancellationToken);
            if (response.IsSuccessStatusCode)
            {
                return response;
            }

            using (response)
            {
                throw await RefusalAsync(response, cancellationToken);
            }
        }
    }

    /// <summary>A request; one that changes what has revisions names the revision it is meant for.</summary>
    public static HttpRequestMessage Request(
        HttpMethod method, string address, object? body = null, string? reason = null, int? revision = null)
    {
        var request = new HttpRequestMessage(method, Root + address);
        if (revision is { } seen)
        {
            request.Headers.IfMatch.Add(new EntityTagHeaderValue(FormattableString.Invariant($"\"{seen}\"")));
        }

        if (body is not null)
        {
            request.Content = body as HttpContent
                ?? Json(JsonSerializer.SerializeToUtf8Bytes(body, body.GetType(), WireJson.Options));
        }

        if (!string.IsNullOrEmpty(reason))
        {
            request.Headers.Add(ReasonHeader, reason);
        }

        return request;
    }

    public static HttpContent Json(ReadOnlyMemory<byte> text) => new ReadOnlyMemoryContent(text)
    {
        Headers = { ContentType = new MediaTypeHeaderValue(MediaTypeNames.Application.Json) },
    };

    private static async Task<DerividException> RefusalAsync(
        HttpResponseMessage response, CancellationToken cancellationToken)
    {
        var wait = PatientHandler.AskedOf(response, TimeProvider.System);
        if (response.Content.Headers.ContentType?.MediaType == MediaTypeNames.Application.ProblemJson)
        {
            return new DerividException(await ReadAsync<ProblemBody>(response, cancellationToken), wait);
        }

        var status = (int)response.StatusCode;
        return new DerividException(
            new ProblemBody
            {
                Type = "about:blank",
                Title = response.ReasonPhrase ?? "",
                Status = status,
                Detail = $"{response.RequestMessage?.RequestUri?.GetLeftPart(UriPartial.Path)} answered {status} without "
                    + "saying why; is this the address of the service?",
            },
            wait);
    }

    private static async Task<T> ReadAsync<T>(HttpResponseMessage response, CancellationToken cancellationToken)
    {
        try
        {
            return await response.Content.ReadFromJsonAsync<T>(WireJson.Answers, cancellationToken)
                ?? throw new JsonException("null");
        }
        catch (JsonException fault)
        {
            throw new HttpRequestException(
                $"{response.RequestMessage?.RequestUri?.GetLeftPart(UriPartial.Path)} gave an answer that is none of this "
                + "service's; is this its address?",
                fault);
        }
    }

    private Uri Absolute(string address) => new(http.BaseAddress!, address);

    // A key goes to the service it belongs to and nowhere else.
    private static Uri Following(Uri page, string next)
    {
        var address = new Uri(page, next);
        return address.GetLeftPart(UriPartial.Authority) == page.GetLeftPart(UriPartial.Authority)
            ? address
            : throw new HttpRequestException($"The next page lies elsewhere, at {address.Authority}; not followed.");
    }
}

/// <summary>Writes addresses below /api/v1.</summary>
internal static class Address
{
    /// <summary>One segment of a path.</summary>
    public static string Segment(string text) => Uri.EscapeDataString(text);

    /// <summary>A path with a query: the record's properties as JSON names and writes them; what is missing is left out.</summary>
    public static string Of(string path, object query)
    {
        var parts = JsonSerializer.SerializeToElement(query, query.GetType(), WireJson.Options).EnumerateObject()
            .Select(part => $"{part.Name}={Uri.EscapeDataString(Text(part.Value))}");
        var text = string.Join('&', parts);
        return text.Length > 0 ? $"{path}?{text}" : path;
    }

    private static string Text(JsonElement value) =>
        value.ValueKind == JsonValueKind.String ? value.GetString()! : value.GetRawText();
}

/// <summary>Headers of writes.</summary>
internal static class RequestHeaders
{
    private const string IdempotencyKey = "Idempotency-Key";

    /// <summary>Gives a request a key, so that the service does once what is sent twice.</summary>
    public static HttpRequestMessage WithIdempotencyKey(this HttpRequestMessage request, string? key)
    {
        request.Headers.Add(IdempotencyKey, key ?? Guid.NewGuid().ToString());
        return request;
    }

    /// <summary>Names the revision that a change is meant for.</summary>
    public static HttpRequestMessage Meant(this HttpRequestMessage request, string tag)
    {
        request.Headers.IfMatch.Add(EntityTagHeaderValue.Parse(tag));
        return request;
    }
}
