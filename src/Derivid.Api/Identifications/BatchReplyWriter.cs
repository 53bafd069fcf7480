using System.Text.Encodings.Web;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Store.Databases;
using Derivid.Store.Identifications;

namespace Derivid.Api.Identifications;

/// <summary>Writes the answer of a batch, a <see cref="BatchReply"/>, while it is worked on.</summary>
/// <remarks>
/// Results leave in small lots, each stored before it is sent, so that what an answer calls stored is. A lot is all that is
/// held of the answer. Until the first lot is stored nothing is sent, and a lost database is a problem of the whole; lost
/// later, the rest is answered without being stored, and says so.
/// </remarks>
/// <param name="response">The answer under way.</param>
/// <param name="archive">Where identifications are stored. Missing: null, they are not.</param>
/// <param name="log">Takes what went wrong.</param>
internal sealed partial class BatchReplyWriter(HttpResponse response, IdentificationArchive? archive, ILogger log) : IAsyncDisposable
{
    // Chosen: a transaction costs little in each, and a reader sees the first results at once.
    private const int LotItems = 25;
    private const int LotBytes = 256 * 1024;

    private readonly CancellationToken _gone = response.HttpContext.RequestAborted;
    private readonly List<BatchLine> _lot = new(LotItems);
    private readonly Utf8JsonWriter _json = new(
        response.BodyWriter, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping, SkipValidation = true });

    private int _lotBytes;
    private int _identified;
    private int _refused;
    private bool _hasBegun;
    private bool _isStoring = archive is not null;

    /// <summary>Takes the next result, and sends what has gathered once it is enough.</summary>
    /// <param name="line">The result.</param>
    /// <exception cref="DatabaseUnavailableException">Nothing was sent or stored yet, and nothing can be stored just now.</exception>
    public async Task AddAsync(BatchLine line)
    {
        _lot.Add(line);
        _lotBytes += line.Identification?.Length ?? 0;
        if (_lot.Count == LotItems || _lotBytes >= LotBytes)
        {
            await SendAsync();
        }
    }

    /// <summary>Sends what is left, and the counts.</summary>
    /// <inheritdoc cref="AddAsync" path="/exception"/>
    public async Task EndAsync()
    {
        await SendAsync();
        _json.WriteEndArray();
        _json.WriteNumber("identified", _identified);
        _json.WriteNumber("refused", _refused);
        _json.WriteBoolean("isStored", _isStoring);
        _json.WriteEndObject();
        await FlushAsync();
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => _json.DisposeAsync();

    private async Task SendAsync()
    {
        await StoreAsync();
        if (!_hasBegun)
        {
            _hasBegun = true;
            response.ContentType = MediaTypes.Json;
            _json.WriteStartObject();
            _json.WriteStartArray("items");
        }

        foreach (var line in _lot)
        {
            Write(line);
        }

        _lot.Clear();
        _lotBytes = 0;
        await FlushAsync();
    }

    private async Task StoreAsync()
    {
        if (!_isStoring)
        {
            return;
        }

        try
        {
            await archive!.AddAsync([.. _lot.Select(line => line.Stored).OfType<StoredIdentification>()], _gone);
        }
        catch (DatabaseUnavailableException fault) when (_hasBegun)
        {
            _isStoring = false;
            NotStored(log, fault.InnerException?.Message ?? fault.Message);
        }
    }

    private void Write(BatchLine line)
    {
        _json.WriteStartObject();
        if (line.Reference is { } reference)
        {
            _json.WriteString("reference", reference);
        }

        if (line.Identification is { } identification)
        {
            _identified++;
            _json.WritePropertyName("identification");
            _json.WriteRawValue(identification, skipInputValidation: true);
            _json.WriteBoolean("isStored", _isStoring);
        }
        else
        {
            _refused++;
            _json.WritePropertyName("problem");
            JsonSerializer.Serialize(_json, line.Problem!.ToBody(), WireJson.Context.ProblemBody);
        }

        _json.WriteEndObject();
    }

    private async Task FlushAsync()
    {
        await _json.FlushAsync(_gone);
        await response.BodyWriter.FlushAsync(_gone);
    }

    [LoggerMessage(LogLevel.Warning, "The rest of a batch is answered without being stored: {Reason}")]
    private static partial void NotStored(ILogger log, string reason);
}

/// <summary>One result of a batch, ready to be written.</summary>
/// <param name="Reference">The sender's own label. Missing: null.</param>
/// <param name="Identification">The identification as it is sent, as UTF-8 JSON. Missing: null, there is a problem.</param>
/// <param name="Stored">The same as it is kept. Missing: null, it is not to be.</param>
/// <param name="Problem">Why it was refused. Missing: null, it was identified.</param>
internal sealed record BatchLine(string? Reference, byte[]? Identification, StoredIdentification? Stored, Problem? Problem);
