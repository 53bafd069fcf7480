namespace Derivid.Core.Teaching.ClassView;

/// <summary>What sort of thing is looked at as an item of an examination.</summary>
public enum ExaminationItemKind
{
    /// <summary>A compound handed out; right if it was claimed.</summary>
    Compound,

    /// <summary>A criterion of the rubric; right if it earned all its points.</summary>
    Criterion,
}
