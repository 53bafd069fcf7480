using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Core;
using Derivid.Store.Seeding;

namespace Derivid.Api.Curation.Imports;

/// <summary>The items of a JSON array, read one at a time: no more than one of them is in memory.</summary>
internal static class JsonItems
{
    /// <summary>Reads them.</summary>
    /// <param name="json">The array, as bytes.</param>
    /// <exception cref="JsonException">It is no array, or breaks off or goes wrong after those that were read.</exception>
    /// <exception cref="InvalidDataException">An item is too long; what is allowed, in a sentence.</exception>
    public static IEnumerable<JsonElement> Read(Stream json)
    {
        var bytes = new JsonBytes(json);
        bytes.Begin(JsonTokenType.StartArray, "an array");
        while (bytes.TryTake(out var item))
        {
            yield return item;
        }
    }
}

/// <summary>The members of a JSON object, read without what they hold.</summary>
internal static class JsonLists
{
    /// <summary>Most members of the object. Chosen: many times the lists there are.</summary>
    private const int Most = 1000;

    /// <summary>Finds them.</summary>
    /// <param name="json">The object, as bytes; it is read to its end.</param>
    /// <returns>
    /// Shape: name ("?" where it holds an escape that is no character), whether it is an array, and where it stands. Units: bytes.
    /// </returns>
    /// <exception cref="JsonException">It breaks off or goes wrong.</exception>
    /// <exception cref="InvalidDataException">It is no such object; what is allowed, in a sentence.</exception>
    public static IReadOnlyList<(string Name, bool IsArray, long Start, long Length)> Read(Stream json)
    {
        var bytes = new JsonBytes(json);
        bytes.Begin(JsonTokenType.StartObject, null);
        var found = new List<(string, bool, long, long)>();
        while (bytes.TryTakeName(out var name))
        {
            if (found.Count == Most)
            {
                throw new InvalidDataException($"an object of at most {Figure.Count(Most, "list")}");
            }

            var (isArray, start) = bytes.Skip();
            found.Add((name, isArray, start, bytes.Position - start));
        }

        return found;
    }
}

/// <summary>JSON on its way through memory, so much of it at a time as is looked at.</summary>
/// <param name="json">The JSON.</param>
internal sealed class JsonBytes(Stream json)
{
    // The longest item or text: every text of a record of the table as long as one may be, many times over. Chosen. Units: bytes.
    private const int Longest = SheetRows.LongestRow;

    private static readonly JsonReaderOptions Options = new() { MaxDepth = JsonBody.DeepestNesting };

    private byte[] _bytes = new byte[64 * 1024];
    private int _start;
    private int _end;
    private bool _isLast;
    private JsonReaderState _state = new(Options);

    /// <summary>How much has been taken. Units: bytes, from the start.</summary>
    public long Position { get; private set; }

    /// <summary>Goes into the array or object.</summary>
    /// <param name="type">How it begins.</param>
    /// <param name="wanted">What it is. Missing: null, the object of lists.</param>
    public void Begin(JsonTokenType type, string? wanted)
    {
        Fill();
        if (_bytes.AsSpan(0, _end).StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]))
        {
            Move(3);
        }

        if (Next() != type)
        {
            throw wanted is null
                ? new InvalidDataException("an object with an array a list; for the rows of one list say with ?table which")
                : new JsonException($"It is not {wanted}.");
        }
    }

    /// <summary>Takes the next item of the array.</summary>
    /// <param name="item">The item.</param>
    /// <returns>Whether there was one; else all has been read, and nothing but the array is there.</returns>
    public bool TryTake(out JsonElement item)
    {
        while (true)
        {
            var reader = new Utf8JsonReader(_bytes.AsSpan(_start, _end - _start), _isLast, _state);
            if (reader.Read())
            {
                if (reader.TokenType == JsonTokenType.EndArray)
                {
                    Take(reader);
                    End();
                    item = default;
                    return false;
                }

                if (JsonElement.TryParseValue(ref reader, out var parsed))
                {
                    Take(reader);
                    item = parsed.Value;
                    return true;
                }
            }

            Fill();
        }
    }

    /// <summary>Takes the name of the next member of the object.</summary>
    /// <param name="name">The name.</param>
    /// <returns>Whether there was one; else all has been read.</returns>
    public bool TryTakeName(out string name)
    {
        name = "";
        while (true)
        {
            var reader = new Utf8JsonReader(_bytes.AsSpan(_start, _end - _start), _isLast, _state);
            if (reader.Read())
            {
                name = reader.TokenType == JsonTokenType.PropertyName ? NameOf(reader) : "";
                Take(reader);
                if (reader.TokenType == JsonTokenType.PropertyName)
                {
                    return true;
                }

                End();
                return false;
            }

            Fill();
        }
    }

    /// <summary>Passes over the next value, however long it is.</summary>
    /// <returns>Whether it is an array, and where it begins.</returns>
    public (bool IsArray, long Start) Skip()
    {
        var (depth, isArray, start) = (0, false, -1L);
        while (true)
        {
            // As many tokens as are in memory by one reader.
            var reader = new Utf8JsonReader(_bytes.AsSpan(_start, _end - _start), _isLast, _state);
            while (reader.Read())
            {
                if (start < 0)
                {
                    (depth, isArray, start) = (reader.CurrentDepth, reader.TokenType == JsonTokenType.StartArray, Position + reader.TokenStartIndex);
                }

                if (reader.CurrentDepth == depth && reader.TokenType is not (JsonTokenType.StartArray or JsonTokenType.StartObject))
                {
                    Take(reader);
                    return (isArray, start);
                }
            }

            Take(reader);
            Fill();
        }
    }

    private static string NameOf(Utf8JsonReader reader)
    {
        try
        {
            return reader.GetString() ?? "?";
        }
        catch (InvalidOperationException)
        {
            return "?";
        }
    }

    private JsonTokenType Next()
    {
        while (true)
        {
            var reader = new Utf8JsonReader(_bytes.AsSpan(_start, _end - _start), _isLast, _state);
            if (reader.Read())
            {
                Take(reader);
                return reader.TokenType;
            }

            Fill();
        }
    }

    // Nothing may stand behind the value; a reader that has all of it throws if something does.
    private void End()
    {
        while (true)
        {
            var reader = new Utf8JsonReader(_bytes.AsSpan(_start, _end - _start), _isLast, _state);
            if (reader.Read() || _isLast)
            {
                return;
            }

            Take(reader);
            Fill();
        }
    }

    private void Take(Utf8JsonReader reader)
    {
        _state = reader.CurrentState;
        Move((int)reader.BytesConsumed);
    }

    private void Move(int bytes)
    {
        _start += bytes;
        Position += bytes;
    }

    private void Fill()
    {
        if (_isLast)
        {
            throw new JsonException("It breaks off.");
        }

        _bytes.AsSpan(_start, _end - _start).CopyTo(_bytes);
        (_start, _end) = (0, _end - _start);
        if (_end == _bytes.Length)
        {
            if (_end >= Longest)
            {
                throw new InvalidDataException($"items and texts of at most {Figure.Count(Longest, "byte")} each");
            }

            Array.Resize(ref _bytes, int.Min(2 * _end, Longest));
        }

        var read = json.ReadAtLeast(_bytes.AsSpan(_end), _bytes.Length - _end, throwOnEndOfStream: false);
        _isLast = _end + read < _bytes.Length;
        _end += read;
    }
}

/// <summary>A part of a file, read as if it were all.</summary>
/// <remarks>Whoever reads another part in between moves this one.</remarks>
internal sealed class FilePart : Stream
{
    private readonly Stream _file;
    private long _left;

    /// <summary>Takes it.</summary>
    /// <param name="file">The file.</param>
    /// <param name="start">Where the part begins. Units: bytes.</param>
    /// <param name="length">How long it is. Units: bytes.</param>
    public FilePart(Stream file, long start, long length)
    {
        (_file, _left, Length) = (file, length, length);
        file.Seek(start, SeekOrigin.Begin);
    }

    /// <inheritdoc/>
    public override bool CanRead => true;

    /// <inheritdoc/>
    public override bool CanSeek => false;

    /// <inheritdoc/>
    public override bool CanWrite => false;

    /// <inheritdoc/>
    public override long Length { get; }

    /// <inheritdoc/>
    public override long Position
    {
        get => Length - _left;
        set => throw new NotSupportedException();
    }

    /// <inheritdoc/>
    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    /// <inheritdoc/>
    public override int Read(Span<byte> buffer)
    {
        var read = _file.Read(buffer[..(int)long.Min(_left, buffer.Length)]);
        _left -= read;
        return read;
    }

    /// <inheritdoc/>
    public override void Flush()
    {
    }

    /// <inheritdoc/>
    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    /// <inheritdoc/>
    public override void SetLength(long value) => throw new NotSupportedException();

    /// <inheritdoc/>
    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
}
