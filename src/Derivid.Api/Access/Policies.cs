using Derivid.Api.Http;
using Derivid.Core.Teaching;

namespace Derivid.Api.Access;

/// <summary>Who may call an endpoint.</summary>
public static class Policies
{
    /// <summary>Name of the policy of reading and identifying: anyone, or anyone signed in; a setting decides.</summary>
    public const string Reader = "reader";

    /// <summary>Keeps endpoints to holders of a role, or of one further up the ladder.</summary>
    /// <typeparam name="TBuilder">Endpoint or group.</typeparam>
    /// <param name="builder">The endpoint or group.</param>
    /// <param name="role">The lowest role let in.</param>
    public static TBuilder RequireRole<TBuilder>(this TBuilder builder, Role role)
        where TBuilder : IEndpointConventionBuilder =>
        builder.RequireAuthorization(NameOf(role)).ProducesProblems(
            ProblemTypes.KeyRequired, ProblemTypes.ScopeMissing, ProblemTypes.SignInUnavailable);

    /// <summary>Name of a role and of its policy, as settings, wire and documents have it.</summary>
    /// <param name="role">The role.</param>
    public static string NameOf(Role role) => role switch
    {
        Role.Student => "student",
        Role.Grader => "grader",
        Role.Instructor => "instructor",
        Role.Administrator => "administrator",
    };
}
