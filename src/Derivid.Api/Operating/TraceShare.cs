using OpenTelemetry.Trace;

namespace Derivid.Api.Operating;

/// <summary>Which traces are recorded and exported: a share of all, drawn by the service and by no caller.</summary>
/// <remarks>
/// Drawn from the trace id, so that all spans of a trace in this process are recorded or none; but by a hash whose key the
/// runtime chooses anew at each start. A sampler that reads the id itself, as the usual one by ratio does, or one that follows the
/// caller's flag would let any caller have each of their requests recorded, at the cost of everybody's. Thread safety: immutable.
/// </remarks>
/// <param name="share">The share. Bounds: 0 to 1.</param>
public sealed class TraceShare(double share) : Sampler
{
    /// <inheritdoc/>
    public override SamplingResult ShouldSample(in SamplingParameters samplingParameters) =>
        // The hash of a text is keyed in this runtime, and made against texts that are chosen to collide.
        new((uint)samplingParameters.TraceId.ToHexString().GetHashCode(StringComparison.Ordinal) < share * (uint.MaxValue + 1.0)
            ? SamplingDecision.RecordAndSample
            : SamplingDecision.Drop);
}
