using System.Buffers;
using System.IO.Compression;
using System.Text;
using Derivid.Store.Databases;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Identifications;

/// <summary>Keeps identifications and finds them again.</summary>
/// <param name="database">Where they are kept.</param>
public sealed class IdentificationArchive(DerividDatabase database)
{
    // Chosen: where writes go one at a time, longer than another is seen to take on a busy machine, and shorter than people wait. Whoever
    // waits holds no connection.
    private static readonly TimeSpan LongestWait = TimeSpan.FromSeconds(5);

    /// <summary>Stores one; one already there under the same id stays as it is.</summary>
    /// <param name="identification">The identification.</param>
    /// <param name="cancellation">Gives up early, storing nothing.</param>
    /// <returns>Whether it was new.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was stored half-way.</exception>
    public async Task<bool> AddAsync(StoredIdentification identification, CancellationToken cancellation) =>
        (await AddAsync([identification], cancellation)).Count == 1;

    /// <summary>Stores many, all or none; those already there under the same id stay as they are.</summary>
    /// <param name="identifications">The identifications. Shape: any order; ids may repeat.</param>
    /// <param name="cancellation">Gives up early, storing nothing.</param>
    /// <returns>The ids that were new.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; none was stored.</exception>
    public async Task<IReadOnlySet<string>> AddAsync(
        IReadOnlyCollection<StoredIdentification> identifications, CancellationToken cancellation)
    {
        // In one order everywhere, or two batches with ids in common could wait for each other for ever.
        var rows = identifications.DistinctBy(row => row.Id).OrderBy(row => row.Id, StringComparer.Ordinal).ToList();
        return await database.RunAsync(
            async (context, token) =>
            {
                using var turn = await database.Engine.TakeTurnAsync(LongestWait, token);
                await using var transaction = rows.Count > 1 ? await context.Database.BeginTransactionAsync(token) : null;
                var added = await context.InsertAsync(rows, StoredRow.Stays, token);
                if (transaction is not null)
                {
                    await transaction.CommitAsync(token);
                }

                return added;
            },
            cancellation);
    }

    /// <summary>Finds one.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The identification. Missing: null, no such id.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<StoredIdentification?> FindAsync(string id, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Identifications.AsNoTracking().FirstOrDefaultAsync(row => row.Id == id, token),
        cancellation);

    /// <summary>Deletes the oldest of those first stored before an instant.</summary>
    /// <param name="instant">The instant. Units: UTC.</param>
    /// <param name="most">How many at most, so that no transaction holds the database for long.</param>
    /// <param name="cancellation">Gives up early, deleting nothing.</param>
    /// <returns>How many were deleted.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<int> DeleteOlderAsync(DateTime instant, int most, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Identifications.Where(row => row.CreatedAtUtc < instant)
            .OrderBy(row => row.CreatedAtUtc).Take(most).ExecuteDeleteAsync(token),
        cancellation);
}

/// <summary>An identification as it was answered, with all that is needed to replay it.</summary>
/// <remarks>
/// The answer is kept compressed, since it is mostly sentences that resemble each other. Rows older than that hold it as
/// text; nothing rewrites them.
/// </remarks>
/// <param name="Id">Hash of observation, table version and model version; equal inputs have one id.</param>
/// <param name="TableVersion">The table version it was made on.</param>
/// <param name="ModelVersion">The scoring model it was made with.</param>
/// <param name="ObservationJson">The normalised observation, byte for byte.</param>
/// <param name="ResultJson">The answer of an older row, byte for byte. Shape: empty where it is compressed.</param>
/// <param name="ResultBrotli">The answer, compressed (RFC 7932). Missing: null, an older row.</param>
/// <param name="CreatedAtUtc">When it was first stored. Units: UTC.</param>
public sealed record StoredIdentification(
    string Id,
    int TableVersion,
    string ModelVersion,
    string ObservationJson,
    string ResultJson,
    byte[]? ResultBrotli,
    DateTime CreatedAtUtc)
{
    // Chosen: the size falls little beyond it, and the time rises.
    private const int Quality = 4;

    private const int WindowBits = 22;

    /// <summary>Takes an answer to be kept.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="tableVersion">The table version it was made on.</param>
    /// <param name="modelVersion">The scoring model it was made with.</param>
    /// <param name="observation">The normalised observation, as UTF-8 JSON.</param>
    /// <param name="result">The answer, as UTF-8 JSON.</param>
    /// <param name="createdAtUtc">Now. Units: UTC.</param>
    public static StoredIdentification Of(
        string id, int tableVersion, string modelVersion, ReadOnlySpan<byte> observation, ReadOnlySpan<byte> result, DateTime createdAtUtc) =>
        new(id, tableVersion, modelVersion, Encoding.UTF8.GetString(observation), "", Compressed(result), createdAtUtc);

    /// <summary>The answer, byte for byte, as UTF-8 JSON.</summary>
    public byte[] Result()
    {
        if (ResultBrotli is null)
        {
            return Encoding.UTF8.GetBytes(ResultJson);
        }

        using var whole = new MemoryStream();
        using var stream = new BrotliStream(new MemoryStream(ResultBrotli), CompressionMode.Decompress);
        stream.CopyTo(whole);
        return whole.ToArray();
    }

    private static byte[] Compressed(ReadOnlySpan<byte> text)
    {
        var room = ArrayPool<byte>.Shared.Rent(BrotliEncoder.GetMaxCompressedLength(text.Length));
        try
        {
            return BrotliEncoder.TryCompress(text, room, out var length, Quality, WindowBits)
                ? room[..length]
                : throw new InvalidOperationException("There was room for the longest text, and yet it did not fit.");
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(room);
        }
    }
}
