using System.Buffers;
using System.Globalization;
using System.Text.Json;
using System.Text.Unicode;
using Derivid.Contracts;

namespace Derivid.Api.Http;

/// <summary>How much one request may hold.</summary>
public static class RequestLimits
{
    /// <summary>Body of one observation. Units: bytes.</summary>
    public const int SingleBytes = 64 * 1024;

    /// <summary>Body of a batch: about 4 KB for each of a thousand observations. Units: bytes.</summary>
    public const int BatchBytes = 4 * 1024 * 1024;

    /// <summary>Body of an import: several hundred thousand rows. Units: bytes.</summary>
    public const int ImportBytes = ImportQuery.LargestMegabytes * 1024 * 1024;
}

/// <summary>Reads a request's body as JSON, within limits.</summary>
public static class JsonBody
{
    /// <summary>Deepest nesting read.</summary>
    public const int DeepestNesting = 16;

    /// <summary>Reads a whole body.</summary>
    /// <param name="request">The request.</param>
    /// <param name="mostBytes">Largest body accepted. Units: bytes.</param>
    /// <returns>The document, which the caller disposes of; or why there is none.</returns>
    public static async Task<Outcome<JsonDocument>> ReadAsync(HttpRequest request, int mostBytes)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (!MediaTypes.Of(request, "body", MediaTypes.Json).Succeeded(out _, out var problem))
        {
            return problem;
        }

        return await ReadBytesAsync(request, mostBytes) is { } bytes
            ? Parse(bytes)
            : new Problem(ProblemTypes.TooLarge, string.Create(
                CultureInfo.InvariantCulture, $"The body may hold at most {mostBytes} bytes here."));
    }

    /// <summary>Reads a whole body into a wire record.</summary>
    /// <typeparam name="T">The wire record; the wire context must know it.</typeparam>
    /// <param name="request">The request.</param>
    /// <param name="mostBytes">Largest body accepted. Units: bytes.</param>
    public static async Task<Outcome<T>> ReadAsync<T>(HttpRequest request, int mostBytes = RequestLimits.SingleBytes)
        where T : class
    {
        if (!(await ReadAsync(request, mostBytes)).Succeeded(out var json, out var problem))
        {
            return problem;
        }

        using (json)
        {
            return As<T>(json.RootElement);
        }
    }

    /// <summary>Reads JSON from bytes.</summary>
    /// <param name="bytes">UTF-8.</param>
    public static Outcome<JsonDocument> Parse(ReadOnlyMemory<byte> bytes)
    {
        if (bytes.Span.StartsWith("\uFEFF"u8))
        {
            bytes = bytes[3..];
        }

        if (!Utf8.IsValid(bytes.Span))
        {
            return Malformed("The body holds bytes that are not UTF-8. Send it in UTF-8.");
        }

        try
        {
            return Objection(bytes.Span) is { } objection ? Malformed(objection) : JsonDocument.Parse(bytes);
        }
        catch (JsonException fault)
        {
            return Malformed(Sentence(fault));
        }
        catch (InvalidOperationException)
        {
            // A property's name with half of a surrogate pair cannot be compared with the others.
            return Malformed("A property's name holds an escape that is no character, such as half of a surrogate pair.");
        }
    }

    /// <summary>Checks a value of a body and reads it into a wire record.</summary>
    /// <typeparam name="T">The wire record; the wire context must know it.</typeparam>
    /// <param name="json">The value.</param>
    /// <param name="place">Where it stands in the body, a JSON Pointer.</param>
    public static Outcome<T> As<T>(JsonElement json, string place = "")
        where T : class
    {
        var errors = new FieldErrors();
        Shape.Check(json, typeof(T), place, errors);
        return errors.ToProblem() is { } problem ? problem : (T)json.Deserialize(typeof(T), WireJson.Context)!;
    }

    private static Problem Malformed(string detail) => new(ProblemTypes.MalformedJson, detail);

    private static string Sentence(JsonException fault) => fault is { LineNumber: { } line, BytePositionInLine: { } position }
        ? string.Create(
            CultureInfo.InvariantCulture,
            $"The JSON breaks off or goes wrong at line {line + 1}, byte {position + 1}. Check brackets, quotes and commas there.")
        : "The JSON breaks off or goes wrong. Check brackets, quotes and commas.";

    // The two rules that well-formed JSON can break. Missing: null, it breaks none.
    private static string? Objection(ReadOnlySpan<byte> json)
    {
        var reader = new Utf8JsonReader(json);
        var open = new Stack<HashSet<string>>();
        while (reader.Read())
        {
            switch (reader.TokenType)
            {
                case JsonTokenType.StartObject or JsonTokenType.StartArray when reader.CurrentDepth >= DeepestNesting:
                    return string.Create(CultureInfo.InvariantCulture, $"Nested deeper than {DeepestNesting} levels.");
                case JsonTokenType.StartObject:
                    open.Push(new HashSet<string>(StringComparer.Ordinal));
                    break;
                case JsonTokenType.EndObject:
                    open.Pop();
                    break;
                case JsonTokenType.PropertyName when reader.GetString()! is var name && !open.Peek().Add(name):
                    return $"A property is given twice: {Text.Quoted(name)}. Keep one of the two.";
            }
        }

        return null;
    }

    // Null: larger than allowed. Counted here too because a chunked body says nothing of its length beforehand.
    private static async Task<ReadOnlyMemory<byte>?> ReadBytesAsync(HttpRequest request, int mostBytes)
    {
        if (request.ContentLength > mostBytes)
        {
            return null;
        }

        // Nothing is set aside for what is only promised: thousands of bodies that never come would take the memory.
        var bytes = new ArrayBufferWriter<byte>();
        var hasWaited = false;
        while (true)
        {
            var reading = request.BodyReader.ReadAsync(request.HttpContext.RequestAborted);
            hasWaited |= !reading.IsCompleted;
            var read = await reading;
            var isTooLarge = bytes.WrittenCount + read.Buffer.Length > mostBytes;
            if (!isTooLarge)
            {
                foreach (var part in read.Buffer)
                {
                    bytes.Write(part.Span);
                }
            }

            // Also of what is too large, or the server could not read on to the next request.
            request.BodyReader.AdvanceTo(read.Buffer.End);
            if (isTooLarge)
            {
                return null;
            }

            if (read.IsCompleted)
            {
                if (hasWaited)
                {
                    Arrival.Of(request.HttpContext).Waited();
                }

                return bytes.WrittenMemory;
            }
        }
    }
}
