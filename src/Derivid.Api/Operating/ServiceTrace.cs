using System.Diagnostics;

namespace Derivid.Api.Operating;

/// <summary>The spans the service makes itself: work that no request waits for. Requests have the framework's.</summary>
public static class ServiceTrace
{
    /// <summary>The source's name.</summary>
    public const string Name = "Derivid";

    private static readonly ActivitySource Source = new(Name);

    /// <summary>Begins a piece of work, so that all that is logged of it bears its trace id, whether it is exported or not.</summary>
    /// <param name="name">Names the kind of work; of few.</param>
    /// <param name="within">The request that asked for it. Missing: default, nobody's; the work has a trace of its own.</param>
    /// <returns>The span, which ends when it is disposed of.</returns>
    public static Activity Begin(string name, ActivityContext within = default)
    {
        if (Source.CreateActivity(name, ActivityKind.Internal, within) is { } listened)
        {
            return listened.Start();
        }

        var unheard = new Activity(name);
        if (within != default)
        {
            unheard.SetParentId(within.TraceId, within.SpanId, within.TraceFlags);
        }

        return unheard.Start();
    }
}
