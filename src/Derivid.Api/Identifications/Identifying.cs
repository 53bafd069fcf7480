using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;

namespace Derivid.Api.Identifications;

/// <summary>The way from a JSON request to an answer.</summary>
public static class Identifying
{
    /// <summary>Reads and checks a request.</summary>
    /// <param name="json">The request.</param>
    /// <param name="place">Where it stands in the body, a JSON Pointer.</param>
    public static Outcome<IdentificationRequest> Read(JsonElement json, string place)
    {
        var errors = new FieldErrors();
        Shape.Check(json, typeof(IdentificationRequest), place, errors);
        return errors.ToProblem() is { } problem ? problem : json.Deserialize(WireJson.Context.IdentificationRequest)!;
    }

    /// <summary>Answers a request.</summary>
    /// <param name="request">The request.</param>
    /// <param name="table">The version of the table to use.</param>
    /// <param name="place">Where the request stands in the body, a JSON Pointer.</param>
    public static Outcome<IdentificationReply> Answer(IdentificationRequest request, ServedTable table, string place)
    {
        ArgumentNullException.ThrowIfNull(table);
        var errors = new FieldErrors();
        var canonical = new CanonicalRequest(table, place, errors).Of(request);
        if (errors.ToProblem() is { } unknown)
        {
            return unknown with { TableVersion = table.Table.Version };
        }

        // The engine works from what is written down, to the digit, so that a replay cannot differ.
        var written = JsonSerializer.SerializeToUtf8Bytes(canonical, WireJson.Context.IdentificationRequest);
        canonical = JsonSerializer.Deserialize(written, WireJson.Context.IdentificationRequest)!;
        var observation = Observing.Of(canonical, table, place, errors);
        if (errors.ToProblem() is { } impossible)
        {
            return impossible with { TableVersion = table.Table.Version };
        }

        var identification = table.Engine.Identify(observation, canonical.MaximumCandidates!.Value);
        var id = IdentificationId.Of(written, identification.ModelVersion);
        var response = Answering.Of(id, identification);
        return new IdentificationReply(
            id,
            identification.TableVersion,
            identification.ModelVersion,
            written,
            response,
            JsonSerializer.SerializeToUtf8Bytes(response, WireJson.Context.IdentificationResponse));
    }
}
