using Derivid.Client;
using Derivid.Contracts;

namespace Derivid.Page.Tests;

/// <summary>Takes people into the staff of a course.</summary>
internal static class StaffChange
{
    /// <summary>Adds somebody who is no owner.</summary>
    /// <param name="courses">The courses, as an owner.</param>
    /// <param name="id">The course.</param>
    /// <param name="actor">Who.</param>
    /// <param name="gone">Gives up.</param>
    public static async Task AddStaffAsync(this CoursesClient courses, string id, string actor, CancellationToken gone)
    {
        var seen = await courses.GetAsync(id, gone);
        await courses.PutStaffAsync(seen, [.. await courses.GetStaffAsync(id, gone), new StaffMember { Actor = actor }], gone);
    }
}
