using System.Globalization;
using System.IO.Compression;
using System.Text;
using Derivid.Contracts;
using Derivid.Core;

namespace Derivid.Api.Http;

/// <summary>Takes a file sent as a body, refusing early what can't be one.</summary>
internal static class FileBody
{
    /// <summary>Most files in an archive. Chosen: OneRoster has 22 and the table some 20 lists; who packs them may add many of their own.</summary>
    public const int MostFilesOfArchive = 1000;

    // What an archive of so many files tells of them, and the search for its end: names, dates, remarks. Chosen.
    private const int LongestDirectory = 512 * 1024;

    private const int Chunk = 64 * 1024;

    /// <summary>Takes it.</summary>
    /// <param name="request">The request; its media type has been checked.</param>
    /// <param name="isJson">Whether it is JSON; else CSV.</param>
    /// <param name="mostBytes">Largest file taken. Units: bytes.</param>
    /// <param name="takesOtherEncodings">
    /// Whether bytes that are no UTF-8 are taken, for whoever reads the file to say where they stand; else it is refused for them.
    /// </param>
    /// <returns>The file, which the caller disposes of; or why it isn't taken.</returns>
    public static async Task<Outcome<SpooledFile>> ReadAsync(HttpRequest request, bool isJson, int mostBytes, bool takesOtherEncodings = false)
    {
        if (request.ContentLength > mostBytes)
        {
            return TooLarge(mostBytes);
        }

        return await SpooledAsync(request.Body, "", isJson, takesOtherEncodings, mostBytes, request.HttpContext.RequestAborted);
    }

    /// <summary>Takes a ZIP archive. Of what is in it only the list of its files is looked at, and only as far as it may go.</summary>
    /// <param name="request">The request; its media type has been checked.</param>
    /// <param name="mostBytes">Largest archive taken. Units: bytes.</param>
    /// <returns>The archive, which the caller disposes of; or why it isn't taken.</returns>
    public static async Task<Outcome<SpooledFile>> ReadArchiveAsync(HttpRequest request, int mostBytes)
    {
        if (request.ContentLength > mostBytes)
        {
            return TooLarge(mostBytes);
        }

        var file = SpooledFile.New(isJson: false);
        try
        {
            if ((await SpoolArchiveAsync(request, file, mostBytes) ?? await DirectoryFaultAsync(file, request.HttpContext.RequestAborted)) is not { } problem)
            {
                return file;
            }

            file.Dispose();
            return problem;
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    /// <summary>Takes a text file out of an archive, held to the same as one sent by itself.</summary>
    /// <param name="entry">The file.</param>
    /// <param name="mostBytes">Largest file taken, unpacked, whatever the archive says of it. Units: bytes.</param>
    /// <param name="cancellation">Gives up.</param>
    /// <param name="takesOtherEncodings">As of <see cref="ReadAsync"/>.</param>
    /// <returns>The file, which the caller disposes of; or why it isn't taken.</returns>
    public static async Task<Outcome<SpooledFile>> ReadEntryAsync(
        ZipArchiveEntry entry, int mostBytes, CancellationToken cancellation, bool takesOtherEncodings = false)
    {
        try
        {
            await using var content = await entry.OpenAsync(cancellation);
            return await SpooledAsync(content, entry.Name, isJson: false, takesOtherEncodings, mostBytes, cancellation);
        }
        catch (InvalidDataException)
        {
            return Refused(entry.Name, "It can't be unpacked; the archive is damaged, or packed in a way that isn't taken here.");
        }
    }

    private static async Task<Outcome<SpooledFile>> SpooledAsync(
        Stream content, string place, bool isJson, bool takesOtherEncodings, int mostBytes, CancellationToken cancellation)
    {
        var file = SpooledFile.New(isJson);
        try
        {
            if (await SpoolAsync(content, place, file, takesOtherEncodings, mostBytes, cancellation) is not { } problem)
            {
                return file;
            }

            file.Dispose();
            return problem;
        }
        catch
        {
            file.Dispose();
            throw;
        }
    }

    private static async Task<Problem?> SpoolArchiveAsync(HttpRequest request, SpooledFile file, int mostBytes)
    {
        var cancellation = request.HttpContext.RequestAborted;
        var bytes = new byte[Chunk];
        var total = 0L;
        while (await request.Body.ReadAtLeastAsync(bytes, Chunk, throwOnEndOfStream: false, cancellation) is > 0 and var read)
        {
            if (total == 0 && !bytes.AsSpan(0, read).StartsWith("PK"u8))
            {
                return Refused("", "This is no ZIP archive.");
            }

            total += read;
            if (total > mostBytes)
            {
                return TooLarge(mostBytes);
            }

            await file.AddAsync(bytes.AsMemory(0, read), cancellation);
        }

        return total == 0 ? Refused("", "The file is empty.") : null;
    }

    // A few bytes name a file, and whoever opens an archive holds all of them. Missing: null, they can be listed, or not read at all.
    private static async Task<Problem?> DirectoryFaultAsync(SpooledFile file, CancellationToken cancellation)
    {
        await using var start = new ArchiveStart(file.FromStart(), LongestDirectory);
        try
        {
            await using var archive = await ZipArchive.CreateAsync(start, ZipArchiveMode.Read, leaveOpen: true, entryNameEncoding: null, cancellation);
            return archive.Entries.Count > MostFilesOfArchive ? TooMany : null;
        }
        catch (InvalidDataException)
        {
            // What is damaged, whoever reads it says.
            return start.IsOver ? TooMany : null;
        }
    }

    private static Problem TooMany { get; } = new(
        ProblemTypes.TooLarge,
        $"An archive may hold at most {Figure.Count(MostFilesOfArchive, "file")} here, and {LongestDirectory / 1024} KB that tell of them; leave out what isn't needed.");

    private static Problem TooLarge(int mostBytes) => new(ProblemTypes.TooLarge, string.Create(
        CultureInfo.InvariantCulture, $"A file may hold at most {mostBytes} bytes here; send it in parts."));

    private static Problem TooLarge(string place, int mostBytes) => new(ProblemTypes.TooLarge, string.Create(
        CultureInfo.InvariantCulture, $"{place} may hold at most {mostBytes} bytes unpacked here; leave out what isn't needed, or send it in parts."));

    private static async Task<Problem?> SpoolAsync(
        Stream content, string place, SpooledFile file, bool takesOtherEncodings, int mostBytes, CancellationToken cancellation)
    {
        var decoder = new UTF8Encoding(false, throwOnInvalidBytes: !takesOtherEncodings).GetDecoder();
        var (bytes, letters) = (new byte[Chunk], new Letters());
        var (total, lines) = (0L, 0);
        while (true)
        {
            // Whole chunks, so that the first one holds the signature and the header.
            var read = await content.ReadAtLeastAsync(bytes, Chunk, throwOnEndOfStream: false, cancellation);
            if ((total == 0 ? Foreign(place, bytes.AsSpan(0, read)) : null) is { } foreign)
            {
                return foreign;
            }

            total += read;
            if (total > mostBytes)
            {
                return place.Length == 0 ? TooLarge(mostBytes) : TooLarge(place, mostBytes);
            }

            if (Strange(decoder, bytes.AsSpan(0, read), letters, isLast: read < Chunk, ref lines) is { } strange)
            {
                return Refused(place, $"Near line {lines + 1} there {strange}. {(letters.KeyAt is not null ? "Leave it out" : "Save the file as CSV in UTF-8")}.");
            }

            if (lines == 0 && read == Chunk && !file.IsJson)
            {
                return Refused(place, "The first line is longer than 64 KB; it should be the header, the names of the columns.");
            }

            await file.AddAsync(bytes.AsMemory(0, read), cancellation);
            if (read < Chunk)
            {
                return total == 0 ? Refused(place, "The file is empty.") : null;
            }
        }
    }

    // Missing: null, it is text.
    private static string? Strange(Decoder decoder, ReadOnlySpan<byte> bytes, Letters letters, bool isLast, ref int lines)
    {
        try
        {
            var text = letters.Take(decoder, bytes, isLast);
            var nul = text.IndexOf('\0');
            lines += text[..(nul >= 0 ? nul : letters.KeyAt ?? text.Length)].Count('\n');
            return nul >= 0 ? "is a NUL character (byte 0), which has no place in a text"
                : letters.KeyAt is not null ? "is a key, which others could read here; nothing was kept. Take the key as known, revoke it and have another made"
                : null;
        }
        catch (DecoderFallbackException)
        {
            return "are bytes that are not UTF-8 text";
        }
    }

    // What people send by mistake says so in its first bytes.
    private static Problem? Foreign(string place, ReadOnlySpan<byte> start) =>
        start.StartsWith("PK"u8) ? Refused(place, "This is a ZIP archive or a spreadsheet workbook. Save the sheet as CSV in UTF-8 and send that.")
        : start.StartsWith((ReadOnlySpan<byte>)[0x1F, 0x8B]) ? Refused(place, "This is a gzip file. Unpack it and send the text.")
        : start.StartsWith((ReadOnlySpan<byte>)[0xD0, 0xCF, 0x11, 0xE0]) ? Refused(place, "This is a spreadsheet workbook. Save the sheet as CSV in UTF-8 and send that.")
        : start.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || start.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF])
            ? Refused(place, "This text is in UTF-16. Save the file as CSV in UTF-8.")
        : null;

    private static Problem Refused(string place, string sentence) => FieldErrors.One(place, sentence);

    // A chunk's letters, with the last ones of the chunk before, where a key may begin that ends in this one.
    private sealed class Letters
    {
        private readonly char[] _room = new char[KeyForm.Length + Chunk + 1];
        private int _length;

        // Where in what was taken a key begins; 0 for one that began before. Missing: null, there is none.
        public int? KeyAt { get; private set; }

        public ReadOnlySpan<char> Take(Decoder decoder, ReadOnlySpan<byte> bytes, bool isLast)
        {
            var kept = Math.Min(KeyForm.Length, _length);
            _room.AsSpan(_length - kept, kept).CopyTo(_room);
            _length = kept + decoder.GetChars(bytes, _room.AsSpan(kept), isLast);
            KeyAt = KeyForm.PlaceIn(_room.AsSpan(0, _length)) is { } place ? Math.Max(0, place - kept) : null;
            return _room.AsSpan(kept.._length);
        }
    }
}

/// <summary>An archive that is read only as far as a list of its files may go; then it ends.</summary>
/// <param name="archive">The archive.</param>
/// <param name="most">How much of it is read. Units: bytes.</param>
internal sealed class ArchiveStart(Stream archive, int most) : Stream
{
    private int _read;

    /// <summary>Whether more was asked for.</summary>
    public bool IsOver { get; private set; }

    /// <inheritdoc/>
    public override bool CanRead => true;

    /// <inheritdoc/>
    public override bool CanSeek => true;

    /// <inheritdoc/>
    public override bool CanWrite => false;

    /// <inheritdoc/>
    public override long Length => archive.Length;

    /// <inheritdoc/>
    public override long Position
    {
        get => archive.Position;
        set => archive.Position = value;
    }

    /// <inheritdoc/>
    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    /// <inheritdoc/>
    public override int Read(Span<byte> buffer) => IsOver ? 0 : Counted(archive.Read(buffer));

    /// <inheritdoc/>
    public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default) =>
        IsOver ? 0 : Counted(await archive.ReadAsync(buffer, cancellationToken));

    /// <inheritdoc/>
    public override Task<int> ReadAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken) =>
        ReadAsync(buffer.AsMemory(offset, count), cancellationToken).AsTask();

    /// <inheritdoc/>
    public override long Seek(long offset, SeekOrigin origin) => archive.Seek(offset, origin);

    /// <inheritdoc/>
    public override void Flush()
    {
    }

    /// <inheritdoc/>
    public override void SetLength(long value) => throw new NotSupportedException();

    /// <inheritdoc/>
    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    private int Counted(int read)
    {
        _read += read;
        IsOver = _read > most;
        return IsOver ? 0 : read;
    }
}

/// <summary>A file sent, kept on disk while it is read; gone when it is disposed of or its process ends.</summary>
public sealed class SpooledFile : IDisposable
{
    private readonly FileStream _file;

    private SpooledFile(FileStream file, bool isJson) => (_file, IsJson) = (file, isJson);

    /// <summary>Whether it is JSON; else it is CSV.</summary>
    public bool IsJson { get; }

    /// <summary>How much it holds. Units: bytes.</summary>
    public long Length => _file.Length;

    /// <summary>How much of it is read. Bounds: 0 to 1.</summary>
    public double Done => _file.Length == 0 ? 1 : (double)_file.Position / _file.Length;

    /// <summary>Makes an empty one.</summary>
    /// <param name="isJson">Whether it is to be JSON.</param>
    /// <exception cref="NoRoomException">The disk takes none.</exception>
    public static SpooledFile New(bool isJson)
    {
        var path = Path.Combine(Path.GetTempPath(), "derivid-" + Path.GetRandomFileName());
        try
        {
            // Unbuffered: whatever the disk doesn't take is known when it is added, not when it is read or disposed of.
            var file = new FileStream(
                path, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.Delete, bufferSize: 0, FileOptions.DeleteOnClose | FileOptions.Asynchronous);
            if (!OperatingSystem.IsWindows())
            {
                // Without a name it goes with the process, however that ends.
                File.Delete(path);
            }

            return new SpooledFile(file, isJson);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new NoRoomException(fault);
        }
    }

    /// <summary>Adds bytes at the end.</summary>
    /// <param name="bytes">The bytes.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="NoRoomException">The disk takes no more.</exception>
    public async ValueTask AddAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken)
    {
        try
        {
            await _file.WriteAsync(bytes, cancellationToken);
        }
        catch (IOException fault)
        {
            throw new NoRoomException(fault);
        }
    }

    /// <summary>Goes back to the start.</summary>
    /// <returns>The bytes; they stay the file's.</returns>
    public Stream FromStart()
    {
        _file.Seek(0, SeekOrigin.Begin);
        return _file;
    }

    /// <summary>Goes back to the start.</summary>
    /// <returns>The text, a byte order mark passed over.</returns>
    public StreamReader TextFromStart() => new(FromStart(), Encoding.UTF8, bufferSize: 64 * 1024, leaveOpen: true);

    /// <inheritdoc/>
    public void Dispose() => _file.Dispose();
}

/// <summary>A file that was sent can't be kept on this machine's disk just now.</summary>
/// <param name="cause">What the disk said.</param>
public sealed class NoRoomException(Exception cause) : Exception("The temporary folder takes no file: " + cause.Message, cause);
