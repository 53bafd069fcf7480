using System.Text.Json;
using Derivid.Core.Curation;
using Derivid.Store.Auditing;
using Derivid.Store.Curation;
using Derivid.Store.Seeding;

namespace Derivid.Api.Curation.Imports;

/// <summary>An import this process is to run, or runs.</summary>
/// <param name="Job">The import.</param>
/// <param name="File">What was sent.</param>
/// <param name="Origin">Who sent it.</param>
internal sealed record WaitingImport(ImportJob Job, SpooledFile File, AuditOrigin Origin) : IDisposable
{
    private readonly CancellationTokenSource _called = new();

    /// <summary>How far it has come.</summary>
    public ImportProgress Progress { get; } = new();

    /// <summary>Whether it was called off.</summary>
    public CancellationToken CalledOff => _called.Token;

    /// <summary>Its rows.</summary>
    public ImportRows Rows
    {
        get
        {
            var type = RecordTypes.Of(Job.Kind);
            var file = RecordFiles.Of(Job.Kind);
            return File.IsJson
                ? new ImportRows(() => JsonRows.Read(File.FromStart(), type), () => File.Done, JsonNamingPolicy.CamelCase.ConvertName)
                : new ImportRows(
                    () => CsvImport.Read(file, File.TextFromStart()),
                    () => File.Done,
                    name => file.Columns.FirstOrDefault(column => column.Field == name)?.Name ?? "");
        }
    }

    /// <summary>Calls it off.</summary>
    public void CallOff() => _called.Cancel();

    /// <inheritdoc/>
    public void Dispose()
    {
        File.Dispose();
        _called.Dispose();
    }
}
