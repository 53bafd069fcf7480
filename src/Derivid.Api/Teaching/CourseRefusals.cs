using Derivid.Api.Http;
using Derivid.Store.Idempotency;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Turns what the store refuses into problems.</summary>
public sealed class CourseRefusals : IEndpointFilter
{
    /// <inheritdoc/>
    public async ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        ArgumentNullException.ThrowIfNull(next);
        try
        {
            return await next(context);
        }
        catch (CourseRuleException refused)
        {
            return new Problem(
                refused.Rule == CourseRule.Stale ? ProblemTypes.StaleRevision : ProblemTypes.CourseStateForbids,
                refused.Message);
        }
        catch (IdempotencyKeyReusedException reused)
        {
            return new Problem(
                ProblemTypes.IdempotencyKeyReused,
                $"{Text.Quoted(reused.Key)} was sent before with another address or body; nothing was changed. Use another key.");
        }
    }
}
