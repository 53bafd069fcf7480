namespace Derivid.Api.Access;

/// <summary>The institution's sign-in can't be asked for its signing keys just now; the same token may do later.</summary>
/// <param name="cause">What went wrong.</param>
public sealed class SignInUnavailableException(Exception cause)
    : Exception("The institution's sign-in can't be reached just now.", cause);
