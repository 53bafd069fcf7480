using Microsoft.AspNetCore.Http;

namespace Derivid.Page.Failures;

/// <summary>A view can't be shown, and knows why without having asked the service.</summary>
/// <param name="failure">Why.</param>
public sealed class FailureException(Failure failure) : Exception(failure?.Detail)
{
    /// <summary>Why.</summary>
    public Failure Failure { get; } = failure ?? throw new ArgumentNullException(nameof(failure));

    /// <summary>What the address names doesn't exist.</summary>
    /// <param name="detail">What is missing, and what there is.</param>
    public static FailureException NotFound(string detail) =>
        new(new Failure(StatusCodes.Status404NotFound, "There is nothing at this address.", detail));
}
