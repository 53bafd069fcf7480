using Derivid.Core.Teaching;
using Microsoft.AspNetCore.Authorization;

namespace Derivid.Page.Sessions;

/// <summary>Keeps a view to those signed in with a role, or one further up the ladder; the others are asked to sign in.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class NeedsRoleAttribute : AuthorizeAttribute
{
    /// <summary>Names the lowest role let in.</summary>
    /// <param name="role">The role.</param>
    public NeedsRoleAttribute(Role role)
    {
        Role = role;
        AuthenticationSchemes = Session.Scheme;
        Roles = string.Join(',', Enum.GetValues<Role>().Where(r => r >= role));
    }

    /// <summary>The lowest role let in.</summary>
    public Role Role { get; }
}
