using System.Net;
using System.Text.Json;
using Derivid.Client;
using Derivid.Contracts;

namespace Derivid.Cli;

/// <summary>Tells of a problem the service answered with.</summary>
internal sealed class Refusal(DerividException problem)
{
    /// <summary>Tells of it: in words, and for scripts the problem itself as JSON in the place of the result.</summary>
    /// <returns>The exit code.</returns>
    public int Tell(Surroundings around, bool asJson)
    {
        if (asJson)
        {
            around.Output.WriteLine(JsonSerializer.Serialize(problem.Problem, WireJson.Indented));
        }

        around.Error.WriteLine("derivid: " + problem.Detail);
        foreach (var (place, messages) in problem.Errors)
        {
            foreach (var message in messages)
            {
                around.Error.WriteLine($"  {(place.Length > 0 ? place : "(whole body)")}: {message}");
            }
        }

        if (problem.Problem.TraceId is { } trace && problem.Status >= HttpStatusCode.InternalServerError)
        {
            around.Error.WriteLine("  trace: " + trace);
        }

        return problem.Status is HttpStatusCode.TooManyRequests or HttpStatusCode.BadGateway
            or HttpStatusCode.ServiceUnavailable or HttpStatusCode.GatewayTimeout
            ? ExitCode.NotReachable
            : ExitCode.Refused;
    }
}
