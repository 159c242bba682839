"""Invented machines and the answers that commission them; they make the jobs in demo_jobs/."""
