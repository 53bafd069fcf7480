using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Says which columns of stored rows may be written again; all others may not.</summary>
internal static class Changing
{
    /// <summary>Lets a column be written again.</summary>
    /// <param name="property">The column's property.</param>
    public static PropertyBuilder<T> MayChange<T>(this PropertyBuilder<T> property)
    {
        property.Metadata.SetAfterSaveBehavior(PropertySaveBehavior.Save);
        return property;
    }

    /// <summary>Forbids writing again wherever no mapping allowed it.</summary>
    /// <param name="model">The model, all its mappings applied.</param>
    public static void ForbidOtherChanges(this ModelBuilder model)
    {
        var others = model.Model.GetEntityTypes().SelectMany(entity => entity.GetProperties())
            .Where(property => !property.IsPrimaryKey()
                && ((IConventionProperty)property).GetAfterSaveBehaviorConfigurationSource() is null);
        foreach (var property in others)
        {
            property.SetAfterSaveBehavior(PropertySaveBehavior.Throw);
        }
    }
}
