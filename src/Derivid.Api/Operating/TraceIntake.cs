using System.Diagnostics;

namespace Derivid.Api.Operating;

/// <summary>What is taken of the trace that a caller says a request is part of: its ids, and nothing else.</summary>
/// <remarks>
/// Anybody may send a traceparent. The trace id is taken, so that a caller's own trace and a line of the log are found by one id; each
/// request has a span id of the service's own behind it, so that no caller can pass a line off as another's. Whether the caller records
/// is not believed (<see cref="TraceShare"/> decides), and tracestate, baggage and the older Request-Id, which are free text, are not read.
/// What is no well-formed traceparent counts as none. Thread safety: immutable.
/// </remarks>
public sealed class TraceIntake : DistributedContextPropagator
{
    private const string Header = "traceparent";

    private static readonly DistributedContextPropagator Standard = CreateW3CPropagator();

    /// <inheritdoc/>
    public override IReadOnlyCollection<string> Fields { get; } = [Header];

    /// <inheritdoc/>
    public override void Inject(Activity? activity, object? carrier, PropagatorSetterCallback? setter) => Standard.Inject(activity, carrier, setter);

    /// <inheritdoc/>
    public override void ExtractTraceIdAndState(object? carrier, PropagatorGetterCallback? getter, out string? traceId, out string? traceState)
    {
        (traceId, traceState) = (null, null);
        string? sent = null;
        getter?.Invoke(carrier, Header, out sent, out _);
        if (ActivityContext.TryParse(sent, null, out var context))
        {
            traceId = $"00-{context.TraceId}-{context.SpanId}-00";
        }
    }

    /// <inheritdoc/>
    public override IEnumerable<KeyValuePair<string, string?>>? ExtractBaggage(object? carrier, PropagatorGetterCallback? getter) => null;
}
