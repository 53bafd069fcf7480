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

        around.Error.WriteLine("derivid: " + Advice.InOwnWords(problem.Detail));
        foreach (var fault in Faults(problem.Problem))
        {
            around.Error.WriteLine("  " + fault);
        }

        if (problem.RetryAfter is { } wait)
        {
            around.Error.WriteLine($"  The service asks to try again in {Figures.Duration(wait)}.");
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

    /// <summary>What is wrong at which place; nothing where the detail, which tells a single fault with its place, has said it.</summary>
    /// <param name="problem">The problem.</param>
    public static IEnumerable<string> Faults(ProblemBody problem)
    {
        var faults = (problem.Errors ?? new Dictionary<string, IReadOnlyList<string>>())
            .SelectMany(error => error.Value.Select(message => (Place: error.Key, Message: message))).ToList();
        return faults is [var only] && problem.Detail.EndsWith(": " + only.Message, StringComparison.Ordinal) ? []
            : faults.Select(fault => $"{Advice.PlaceInOwnWords(fault.Place)}: {Advice.InOwnWords(fault.Message)}");
    }
}
