using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Api.Table;
using Derivid.Contracts;

namespace Derivid.Api.Teaching;

/// <summary>Turns a report as written into one that can be kept.</summary>
/// <remarks>It looks at the report and the table only: nothing here knows what was handed out.</remarks>
public static class ReportReading
{
    /// <summary>Reads a report.</summary>
    /// <param name="request">The report; its shape has been checked.</param>
    /// <param name="table">The version of the table the course holds to.</param>
    /// <param name="errors">Takes the faults.</param>
    /// <returns>What it says, as JSON. It means something only while no faults were noted.</returns>
    public static string Of(ReportRequest request, ServedTable table, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(errors);
        var sent = request.Observation ?? new IdentificationRequest();
        AddForeign(sent, errors);
        var canonical = new CanonicalRequest(table, "/observation", errors).Of(sent);
        if (errors.Count == 0)
        {
            Observing.Of(canonical, table, "/observation", errors);
        }

        return JsonSerializer.Serialize(
            new ReportBody
            {
                Observation = canonical with { TableVersion = null, WindowCelsius = null, MaximumCandidates = null },
                ClaimedParent = Claimed(request.ClaimedParent, table, errors),
                ClaimedKind = request.ClaimedKind,
                Reasoning = request.Reasoning,
                Notes = request.Notes,
            },
            ServiceContext.Wire.ReportBody);
    }

    private static void AddForeign(IdentificationRequest sent, FieldErrors errors)
    {
        (string Name, bool IsSent)[] foreign =
        [
            ("prior", sent.Prior is not null),
            ("windowCelsius", sent.WindowCelsius is not null),
            ("tableVersion", sent.TableVersion is not null),
            ("maximumCandidates", sent.MaximumCandidates is not null),
        ];
        foreach (var (name, _) in foreign.Where(item => item.IsSent))
        {
            errors.Add($"/observation/{name}", "The course decides this; leave it out.");
        }
    }

    private static string? Claimed(string? name, ServedTable table, FieldErrors errors)
    {
        if (name is null || table.Parents.Find(name) is { } key && (name = key) is not null)
        {
            return name;
        }

        errors.Add("/claimedParent", table.Parents.Unknown(name!));
        return name;
    }
}
